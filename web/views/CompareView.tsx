import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { colourAt, depthPercent, exposureFor, lightnessOfDepth } from '../../analysis/curve/evaluate.ts';
import type { ComparisonAnswer } from '../../server/contracts/comparison.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import { goTo, nameDetail, place } from '../address.ts';
import { CurvesPlot, LineKey, letterOf } from '../compare/CurvesPlot.tsx';
import { type Candidate, type Compared, candidates, fetchCompared } from '../compare/comparable.ts';
import { formatNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { Said } from '../parts/Remarks.tsx';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { Swatch } from '../parts/Swatch.tsx';
import { useWidth } from '../parts/useWidth.ts';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import { compareReadings } from '../record/recordApi.ts';
import { pictureOf, saveFile, svgFileOf } from '../save.ts';
import { demos } from '../session.ts';
import { shelf } from '../shelf/shelf.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
import '../styles/compare.css';

const DEPTHS = [10, 25, 50, 75, 90];
const MOST = 12;

/** Exposures a stop apart over what all strips cover together. */
const sharedTimes = (curves: readonly Curve[]): readonly number[] => {
  const first = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds));
  const last = Math.max(...curves.map(({ longestSeconds }) => longestSeconds));
  const count = Math.min(8, Math.floor(Math.log2(last / first)) + 1);
  return Array.from({ length: count }, (_, i) => first * 2 ** i);
};

const covers = (curve: Curve, seconds: number): boolean =>
  seconds >= curve.shortestSeconds / 1.01 && seconds <= curve.longestSeconds * 1.01;

const SameTime = ({ strips }: { strips: readonly Compared[] }) => {
  const times = sharedTimes(strips.map(({ curve }) => curve));
  return (
    <section aria-labelledby="same-time-heading">
      <h2 id="same-time-heading">{words.compare.sameTime}</h2>
      <ScrollPlace labelledBy="same-time-heading">
        <table class="side-by-side">
          <thead>
            <tr>
              <th scope="col">{words.plan.time}</th>
              {strips.map(({ key }, i) => (
                <th key={key} scope="col">
                  {letterOf(i)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {times.map((seconds) => (
              <tr key={seconds}>
                <th scope="row">{formatTime(seconds)}</th>
                {strips.map(({ key, curve }) => {
                  if (!covers(curve, seconds)) return <td key={key}>{words.compare.outside}</td>;
                  const colour = colourAt(curve, seconds);
                  return (
                    <td key={key}>
                      <Swatch {...colour} />
                      <span class="swatch-words">
                        L* {formatNumber(colour.L, 1)} · {formatNumber(depthPercent(curve, colour.L), 0)} %
                      </span>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollPlace>
    </section>
  );
};

const SameDepth = ({ strips }: { strips: readonly Compared[] }) => (
  <section aria-labelledby="same-depth-heading">
    <h2 id="same-depth-heading">{words.compare.sameDepth}</h2>
    <ScrollPlace labelledBy="same-depth-heading">
      <table class="side-by-side">
        <thead>
          <tr>
            <th scope="col">{words.plan.depth}</th>
            {strips.map(({ key }, i) => (
              <th key={key} scope="col">
                {letterOf(i)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {DEPTHS.map((percent) => (
            <tr key={percent}>
              <th scope="row">{words.target.depth(percent)}</th>
              {strips.map(({ key, curve }) => {
                const seconds = exposureFor(curve, lightnessOfDepth(curve, percent));
                if (seconds === null || seconds > curve.longestSeconds * 2)
                  return <td key={key}>{words.compare.outside}</td>;
                const colour = colourAt(curve, seconds);
                return (
                  <td key={key}>
                    <Swatch {...colour} />
                    <span class="swatch-words">
                      {formatTime(seconds)} · L* {formatNumber(colour.L, 1)}
                    </span>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollPlace>
  </section>
);

const FIGURES = [
  'secondsToDepth',
  'secondsTo90',
  'contrastLPerStop',
  'exposureScaleStops',
  'deepestL',
  'deepestChroma',
  'deepestHue',
] as const;

const figureText = (name: (typeof FIGURES)[number], value: number | null): string =>
  value === null
    ? '–'
    : name === 'secondsToDepth' || name === 'secondsTo90'
      ? formatTime(value)
      : formatNumber(value, name === 'deepestHue' ? 0 : 1);

const Numbers = ({ answer }: { answer: ComparisonAnswer }) => {
  const { comparison } = answer;
  if (comparison.kind === 'not-comparable')
    return (
      <p class="field-problem">
        {words.compare.notComparable}: <Said text={comparison.reason} phrase={comparison.phrase} />
      </p>
    );
  return (
    <section aria-labelledby="numbers-heading">
      <h2 id="numbers-heading">{words.compare.table}</h2>
      <ScrollPlace labelledBy="numbers-heading">
        <table class="plan-table">
          <thead>
            <tr>
              <td />
              {comparison.dyes.map(({ name }, i) => (
                <th key={name} scope="col">
                  {letterOf(i)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {FIGURES.map((name) => (
              <tr key={name}>
                <th scope="row">{words.compare.figures[name]}</th>
                {comparison.dyes.map((dye) => {
                  const { value, low, high } = dye[name];
                  return (
                    <td key={dye.name}>
                      {figureText(name, value)}
                      {(low !== null || high !== null) && (
                        <span class="fine">
                          {' '}
                          ({figureText(name, low)} – {figureText(name, high)})
                        </span>
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollPlace>
      <ul class="plain-pairs">
        {comparison.pairs.map(({ first, second, differences, sentence, phrase }) => (
          <li key={first + second}>
            <p>
              <strong>{words.compare.pair(first, second)}</strong>{' '}
              {differences
                .filter(({ figure }) => (FIGURES as readonly string[]).includes(figure))
                .map(
                  ({ figure, verdict }) =>
                    `${words.compare.figures[figure as (typeof FIGURES)[number]]}: ${words.compare.verdicts[verdict]}`,
                )
                .join(' · ')}
            </p>
            <Said text={sentence} phrase={phrase} />
          </li>
        ))}
      </ul>
    </section>
  );
};

const Comparison = ({ strips }: { strips: readonly Compared[] }) => {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  const depth = useSignal<'50' | '75' | '90'>('50');
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
  const plot = (): SVGSVGElement | null => document.querySelector('.compare-plot svg.plot');
  return (
    <>
      <section aria-labelledby="curves-heading">
        <h2 id="curves-heading">{words.compare.curves}</h2>
        <ol class="line-names">
          {strips.map(({ key, name, isDemo }, i) => (
            <li key={key}>
              <LineKey index={i} /> <strong>{letterOf(i)}</strong>{' '}
              <span {...(isDemo && { lang: 'en' })}>{name}</span>
            </li>
          ))}
        </ol>
        <div class="compare-plot" ref={ref}>
          {widthPx > 100 && <CurvesPlot strips={strips} widthPx={widthPx} />}
        </div>
        <div class="saves">
          <button
            type="button"
            onClick={() => {
              const drawing = plot();
              if (drawing) saveFile(svgFileOf(drawing), 'curves.svg', 'image/svg+xml');
            }}
          >
            {words.stage.saveDrawing}
          </button>
          <button
            type="button"
            onClick={async () => {
              const drawing = plot();
              const picture = drawing && (await pictureOf(drawing));
              if (picture) saveFile(picture, 'curves.png', 'image/png');
            }}
          >
            {words.stage.savePicture}
          </button>
        </div>
      </section>
      <SameTime strips={strips} />
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
            <fieldset class="block">
              <legend>{words.compare.choose}</legend>
              <div class="candidates">
                {strips.map(({ key, name, isDemo }) => (
                  <label key={key} class="tick-box">
                    <input
                      type="checkbox"
                      checked={keys.includes(key)}
                      onChange={(event) => choose(key, event.currentTarget.checked)}
                    />
                    <span {...(isDemo && { lang: 'en' })}>{name}</span>
                    {isDemo && <span class="fine">({words.frame.demo})</span>}
                  </label>
                ))}
              </div>
            </fieldset>
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
