import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { Cautions } from './parts/Cautions.tsx';
import { ProblemNote } from './parts/ProblemNote.tsx';
import { choosePhoto, demos, goTo, openDemo, openPage, shown, view, work } from './session.ts';
import { switchTheme, theme } from './theme.ts';
import { FormView } from './views/FormView.tsx';
import { ReadingView } from './views/ReadingView.tsx';
import { words } from './words.ts';

const Frame = () => {
  const dark = theme.value === 'dark';
  const onForm = view.value === 'form';
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
      <div class="frame-tools">
        {demos.value.length > 0 && !onForm && (
          <label class="demo-choice">
            <span class="unseen">{words.frame.demos}</span>
            <select
              value={shown.value?.demo?.id ?? ''}
              onChange={(event) => {
                const { value } = event.currentTarget;
                if (value === '') return;
                goTo('reading');
                openDemo(value);
              }}
            >
              {!shown.value?.demo && <option value="">{words.frame.demos}</option>}
              {demos.value.map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          </label>
        )}
        <button
          type="button"
          class="quiet"
          aria-label={`${words.frame.themeLabel} ${dark ? words.frame.toLight : words.frame.toDark}`}
          onClick={switchTheme}
        >
          {dark ? words.frame.toLight : words.frame.toDark}
        </button>
        {onForm ? (
          <button type="button" aria-label={words.frame.backToReading} onClick={() => goTo('reading')}>
            {words.frame.back}
          </button>
        ) : (
          <div class="read-bar">
            <button type="button" class="primary" onClick={() => goTo('form')}>
              {words.frame.readAStrip}
            </button>
          </div>
        )}
      </div>
    </header>
  );
};

const Opening = () => {
  const now = work.value;
  return (
    <main class="opening" id="main" tabIndex={-1}>
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

/** The page: a frame, and in it either the reading on show or the form for the next one. */
export const App = () => {
  const dragging = useSignal(false);
  useEffect(() => {
    openPage();
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
    <>
      <Frame />
      {view.value === 'form' ? <FormView /> : shown.value ? <ReadingView shown={shown.value} /> : <Opening />}
      <Cautions />
      {dragging.value && (
        <div class="drop-veil" aria-hidden="true">
          {words.frame.dropHere}
        </div>
      )}
    </>
  );
};
