import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ComparisonAnswer } from '../../server/contracts/comparison.ts';
import { goTo, nameDetail, place } from '../address.ts';
import { ChooseStrips } from '../compare/ChooseStrips.tsx';
import { CurvesPlot } from '../compare/CurvesPlot.tsx';
import { type Candidate, type Compared, candidates, fetchCompared } from '../compare/comparable.ts';
import { mixedOf } from '../compare/mixed.ts';
import { Numbers } from '../compare/Numbers.tsx';
import { SameDepth, SameTime } from '../compare/SideBySide.tsx';
import { letterOf } from '../compare/strokes.ts';
import { Choice } from '../parts/Choice.tsx';
import { SavedPicture } from '../parts/SavedPicture.tsx';
import { useWidth } from '../parts/useWidth.ts';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import { compareReadings } from '../record/recordApi.ts';
import { demos } from '../session.ts';
import { shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
import '../styles/choices.css';
import '../styles/compare.css';

const MOST = 12;
/** From so many strips on, one band at a time is shown first: all over each other say nothing. */
const CROWDED = 5;

/** Which bands are drawn: all, none, or one strip's. */
type BandChoice = 'all' | 'none' | number;

const BandChoices = ({ count, chosen }: { count: number; chosen: Signal<BandChoice> }) => (
  <fieldset class="choices band-choices">
    <legend>{words.compare.bands}</legend>
    {(['all', ...Array.from({ length: count }, (_, i) => i), 'none'] as const).map((choice) => (
      <button
        key={choice}
        type="button"
        aria-pressed={chosen.value === choice}
        onClick={() => {
          chosen.value = choice;
        }}
      >
        {choice === 'all'
          ? words.compare.allBands
          : choice === 'none'
            ? words.compare.noBands
            : letterOf(choice)}
      </button>
    ))}
  </fieldset>
);

const Comparison = ({ strips }: { strips: readonly Compared[] }) => {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const depth = useSignal<'50' | '75' | '90'>('50');
  const shownBands = useSignal<BandChoice>(strips.length < CROWDED ? 'all' : 0);
  const { answer, ask } = useMemo(() => asking<ComparisonAnswer>(), []);
  const keys = strips.map(({ key }) => key).join();
  const look = (): Promise<void> =>
    ask(() =>
      compareReadings(
        strips.map(({ reading }) => reading),
        strips.map(({ name }, i) => `${letterOf(i)} ${name}`),
        Number(depth.value),
      ),
    );
  useEffect(() => {
    look();
  }, [keys, depth.value]);
  useEffect(() => {
    shownBands.value = strips.length < CROWDED ? 'all' : 0;
  }, [keys]);
  const mixed = mixedOf(strips);
  const comparison = answer.value?.kind === 'here' ? answer.value.value.comparison : null;
  // While other strips are on their way, the bands of those before must not stand beside these.
  const fits =
    comparison?.kind === 'compared' &&
    comparison.dyes.every(({ name }, i) => name === `${letterOf(i)} ${strips[i]?.name}`);
  const bands = strips.map((_, i) => (fits ? (comparison.bands[i] ?? null) : null));
  return (
    <>
      <section aria-labelledby="curves-heading">
        <h2 id="curves-heading">{words.compare.curves}</h2>
        {mixed.length > 0 && (
          <ul class="warnings">
            {mixed.map((what) => (
              <li key={what}>{words.compare.mixed[what]}</li>
            ))}
          </ul>
        )}
        <div class="compare-plot" ref={ref}>
          {widthPx > 100 && (
            <CurvesPlot
              strips={strips}
              bands={bands.map((band, i) =>
                shownBands.value === 'all' || shownBands.value === i ? band : null,
              )}
              widthPx={widthPx}
            />
          )}
        </div>
        <p class="fine">{words.compare.bandsNote}</p>
        <BandChoices count={strips.length} chosen={shownBands} />
        <SavedPicture drawing={() => ref.current?.querySelector('svg')} name="curves" />
      </section>
      <SameTime strips={strips} bands={bands} />
      <SameDepth strips={strips} />
      <Choice
        label={words.compare.depth}
        value={depth}
        options={(['50', '75', '90'] as const).map((percent) => [
          percent,
          words.target.depthLabel(Number(percent)),
        ])}
      />
      <Answered asked={answer.value} again={look}>
        {(answered) => <Numbers answer={answered} />}
      </Answered>
    </>
  );
};

/** Strips of several dyes over each other: curves, colours at equal exposure and equal depth, numbers. */
export const CompareView = () => {
  const { answer: list, ask: askList } = useMemo(() => asking<readonly Candidate[]>(), []);
  const { answer: read, ask: askRead } = useMemo(() => asking<readonly Compared[]>(), []);
  const keys = (place.value.detail ?? '').split(',').filter(Boolean);
  const look = (): Promise<void> => askList(candidates);
  useEffect(() => {
    look();
  }, [demos.value.length, shelf.value.length]);
  const all = list.value?.kind === 'here' ? list.value.value : [];
  const chosen = keys.flatMap((key) => all.filter((one) => one.key === key)).slice(0, MOST);
  const wanted = chosen.map(({ key }) => key).join();
  const fetchThem = (): Promise<void> => askRead(() => fetchCompared(chosen));
  useEffect(() => {
    if (chosen.length >= 2) fetchThem();
  }, [wanted]);
  const choose = (key: string, on: boolean): void => {
    const next = on ? [...keys, key] : keys.filter((one) => one !== key);
    nameDetail(next.length === 0 ? null : next.join(','));
  };
  return (
    <main class="book-view" id="main" tabIndex={-1}>
      <h1>{words.compare.heading}</h1>
      <BookWays />
      <Answered asked={list.value} again={look}>
        {(strips) =>
          strips.length < 2 ? (
            <div class="empty">
              <p class="empty-what">{words.compare.tooFew}</p>
              <button type="button" onClick={() => goTo('read')}>
                {words.form.heading}
              </button>
            </div>
          ) : (
            <ChooseStrips strips={strips} chosen={keys} onChoose={choose} />
          )
        }
      </Answered>
      {chosen.length < 2 ? (
        <p>{words.compare.pickTwo}</p>
      ) : (
        <Answered asked={read.value} again={fetchThem}>
          {(strips) => (strips.length < 2 ? <p>{words.compare.tooFew}</p> : <Comparison strips={strips} />)}
        </Answered>
      )}
    </main>
  );
};
