import { useSignal } from '@preact/signals';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { goTo, place, type View } from './address.ts';
import { language } from './language.ts';
import { lazyView } from './lazyView.tsx';
import { Cautions } from './parts/Cautions.tsx';
import { Navigation } from './parts/Navigation.tsx';
import { Notice } from './parts/Notice.tsx';
import { ProblemNote } from './parts/ProblemNote.tsx';
import { RunningNote } from './parts/RunningNote.tsx';
import { StripChoice } from './parts/StripChoice.tsx';
import { visitor } from './phone/visitor.ts';
import { choosePhoto, openAnswer, openPage, pageIsOpen, shown, work } from './session.ts';
import { chooseTheme, isDark } from './theme.ts';
import { ReadingView } from './views/ReadingView.tsx';
import { words } from './words.ts';

const FormView = lazyView(async () => (await import('./views/FormView.tsx')).FormView);
const PlanView = lazyView(async () => (await import('./views/PlanView.tsx')).PlanView);
const RunView = lazyView(async () => (await import('./views/RunView.tsx')).RunView);
const BookView = lazyView(async () => (await import('./views/BookView.tsx')).BookView);
const PairView = lazyView(async () => (await import('./phone/PairView.tsx')).PairView);
const TodayView = lazyView(async () => (await import('./views/TodayView.tsx')).TodayView);
const CompareView = lazyView(async () => (await import('./views/CompareView.tsx')).CompareView);
const DriftView = lazyView(async () => (await import('./views/DriftView.tsx')).DriftView);
const EvennessView = lazyView(async () => (await import('./views/EvennessView.tsx')).EvennessView);
const ArchiveView = lazyView(async () => (await import('./views/ArchiveView.tsx')).ArchiveView);
const SettingsView = lazyView(async () => (await import('./views/SettingsView.tsx')).SettingsView);

const Frame = () => {
  const dark = isDark();
  const { view } = place.value;
  return (
    <header class="frame">
      <a class="skip" href="#main">
        {words.frame.skip}
      </a>
      <p class="brand">
        <svg width="34" height="22" viewBox="0 0 34 22" aria-hidden="true" class="brand-mark">
          <path d="M1 2h32" />
          <path d="M1 5.5h6v5H1zM8 5.5h6v8H8zM15 5.5h6v11h-6zM22 5.5h6v14h-6zM29 5.5h4v15.500h-4z" />
        </svg>
        {words.title}
      </p>
      {visitor.value?.visitor !== 'stranger' && <Navigation />}
      <div class="frame-tools">
        {view === 'answer' && <StripChoice />}
        <button
          type="button"
          class="quiet theme-switch"
          aria-label={`${words.frame.themeLabel} ${dark ? words.frame.toLight : words.frame.toDark}`}
          onClick={() => chooseTheme(dark ? 'light' : 'dark')}
        >
          {dark ? words.frame.toLight : words.frame.toDark}
        </button>
        <button
          type="button"
          class="quiet settings-way"
          aria-label={words.frame.settings}
          aria-pressed={view === 'settings'}
          onClick={() => goTo('settings')}
        >
          <svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">
            <path d="M3 6h11M18 6h3M3 12h3M10 12h11M3 18h8M15 18h6M16 3.500v5M8 9.500v5M13 15.500v5" />
          </svg>
        </button>
      </div>
    </header>
  );
};

const Opening = () => {
  const now = work.value;
  return (
    <main class="opening" id="main" tabIndex={-1}>
      <h1 class="unseen">{words.answer.heading}</h1>
      {now.kind === 'failed' ? (
        <ProblemNote failure={now.failure}>
          <button type="button" onClick={openPage}>
            {words.frame.tryAgain}
          </button>
        </ProblemNote>
      ) : (
        <p role="status" class="work">
          <progress aria-label={words.frame.opening} />
          {words.frame.opening}
        </p>
      )}
    </main>
  );
};

const Answer = () => {
  const { detail } = place.value;
  useEffect(() => {
    if (pageIsOpen()) openAnswer();
  }, [detail]);
  return shown.value ? <ReadingView shown={shown.value} /> : <Opening />;
};

const Main = () => {
  if (visitor.value?.visitor === 'stranger') return <PairView />;
  switch (place.value.view) {
    case 'answer':
      return <Answer />;
    case 'plan':
      return <PlanView />;
    case 'run':
      return <RunView />;
    case 'read':
      return <FormView />;
    case 'book':
      return <BookView />;
    case 'today':
      return <TodayView />;
    case 'compare':
      return <CompareView />;
    case 'drift':
      return <DriftView />;
    case 'evenness':
      return <EvennessView />;
    case 'archive':
      return <ArchiveView />;
    case 'settings':
      return <SettingsView />;
  }
};

const viewName = (view: View): string => ({ ...words.book, ...words.frame })[view];

/** The view on show: the title names it, and it takes the focus where what had it went with the view before. */
const ViewPlace = () => {
  const ref = useRef<HTMLDivElement>(null);
  const first = useRef(true);
  const { view } = place.value;
  useLayoutEffect(() => {
    document.title = `${viewName(view)} · ${words.title}`;
    if (!first.current && document.activeElement === document.body)
      ref.current?.focus({ preventScroll: true });
    first.current = false;
  }, [view]);
  return (
    <div class="view-place" ref={ref} tabIndex={-1}>
      <Main />
    </div>
  );
};

/** The page: a frame, and in it the view that the address names. */
export const App = () => {
  const dragging = useSignal(false);
  useEffect(() => {
    const over = (event: DragEvent): void => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      dragging.value = true;
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) dragging.value = false;
    };
    const drop = (event: DragEvent): void => {
      event.preventDefault();
      dragging.value = false;
      const [file] = event.dataTransfer?.files ?? [];
      if (file) choosePhoto(file);
    };
    addEventListener('dragover', over);
    addEventListener('dragleave', leave);
    addEventListener('drop', drop);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('dragleave', leave);
      removeEventListener('drop', drop);
    };
  }, []);
  return (
    <div class="app" key={language.value}>
      <Frame />
      <RunningNote />
      <ViewPlace />
      <Cautions />
      <Notice />
      {dragging.value && (
        <div class="drop-veil" aria-hidden="true">
          {words.frame.dropHere}
        </div>
      )}
    </div>
  );
};
