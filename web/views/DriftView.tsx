import { useEffect, useMemo } from 'preact/hooks';
import type { DriftAnswer } from '../../server/contracts/drift.ts';
import type { Control } from '../../server/contracts/recordUse.ts';
import { goTo } from '../address.ts';
import { formatMoment, formatNumber } from '../numbers.ts';
import { Said, Warnings } from '../parts/Remarks.tsx';
import { useWidth } from '../parts/useWidth.ts';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import { chartDrift, fetchControls } from '../record/recordApi.ts';
import { words } from '../words.ts';
import '../styles/book.css';
import '../styles/table.css';
import '../styles/compare.css';

type Drift = DriftAnswer['drift'];
type Chart = Extract<Drift, { kind: 'chart' }>;

interface Charted {
  readonly controls: readonly Control[];
  readonly drift: Drift | null;
}

/** Control scraps whose shift could be told, oldest first, and what their chart says. */
const fetchCharted = async (): Promise<Charted> => {
  const controls = [...(await fetchControls({}))].sort((a, b) => a.exposedAt.localeCompare(b.exposedAt));
  const known = controls.filter(({ shiftStops }) => shiftStops.value !== null);
  if (known.length === 0) return { controls, drift: null };
  const { drift } = await chartDrift(
    known.map(({ exposedAt, setup, lampHours, shiftStops }) => ({
      date: exposedAt,
      setup,
      ...(lampHours !== null && { lampHours }),
      shiftStops: shiftStops.value ?? 0,
    })),
  );
  return { controls, drift };
};

const HIGH = 300;
const LEFT = 52;

const DriftPlot = ({ chart, widthPx }: { chart: Chart; widthPx: number }) => {
  const { records, individuals, ewma } = chart;
  const values = records.slice(chart.from).map(({ shiftStops }) => shiftStops);
  const ends = [...values, individuals.lower, individuals.upper];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const room = Math.max(0.05, (most - least) * 0.12);
  const y = (stops: number): number => 14 + ((HIGH - 44) * (most + room - stops)) / (most - least + 2 * room);
  const x = (index: number): number => LEFT + ((index + 0.5) * (widthPx - LEFT - 8)) / values.length;
  const odd = new Set(chart.findings.map(({ index }) => index));
  const line = (stops: number, cls: string) => <path d={`M${LEFT} ${y(stops)}H${widthPx - 8}`} class={cls} />;
  const label = (stops: number) => (
    <text x={LEFT - 6} y={y(stops) + 4} class="tick" text-anchor="end">
      {formatNumber(stops, 2)}
    </text>
  );
  return (
    <svg
      class="plot drift-plot"
      width={widthPx}
      height={HIGH}
      viewBox={`0 0 ${widthPx} ${HIGH}`}
      role="img"
      aria-label={words.drift.chartLabel}
    >
      {line(individuals.mean, 'mean')}
      {line(individuals.lower, 'limit')}
      {line(individuals.upper, 'limit')}
      {label(individuals.mean)}
      {label(individuals.lower)}
      {label(individuals.upper)}
      <path d={values.map((stops, i) => `${i === 0 ? 'M' : 'L'}${x(i)} ${y(stops)}`).join('')} class="axis" />
      <path
        d={ewma.averages.map((stops, i) => `${i === 0 ? 'M' : 'L'}${x(i)} ${y(stops)}`).join('')}
        class="average"
      />
      {values.map((stops, i) => (
        <g key={i}>
          <circle
            cx={x(i)}
            cy={y(stops)}
            r={odd.has(i + chart.from) ? 8 : 5}
            class={odd.has(i + chart.from) ? 'odd' : 'value'}
          />
          {(values.length <= 12 || i % 5 === 0) && (
            <text x={x(i)} y={HIGH - 8} class="tick" text-anchor="middle">
              {i + 1}
            </text>
          )}
        </g>
      ))}
    </svg>
  );
};

const ChartPart = ({ chart }: { chart: Chart }) => {
  const [ref, widthPx] = useWidth<HTMLDivElement>();
  return (
    <section aria-labelledby="chart-heading">
      <h2 id="chart-heading">{words.drift.chart}</h2>
      <p>
        <strong>{words.drift.verdicts[chart.verdict]}.</strong>{' '}
        {words.drift.limits(
          formatNumber(chart.individuals.lower, 2),
          formatNumber(chart.individuals.upper, 2),
        )}
        . {words.drift.timeFactor(formatNumber(chart.timeFactor, 2))}
      </p>
      <p>
        <Said text={chart.sentence} phrase={chart.phrase} />
      </p>
      <div ref={ref}>{widthPx > 100 && <DriftPlot chart={chart} widthPx={widthPx} />}</div>
      {chart.findings.length > 0 && (
        <>
          <h3>{words.drift.rules}</h3>
          <ul class="warnings">
            {chart.findings.map(({ code, index }) => (
              <li key={`${code}${index}`}>
                {words.drift.point(index - chart.from + 1, words.drift.rule[code])}
              </li>
            ))}
          </ul>
        </>
      )}
      {chart.warnings.length > 0 && <Warnings warnings={chart.warnings} />}
    </section>
  );
};

/** Control scraps in the order of time: is the light steady? */
export const DriftView = () => {
  const { answer, ask } = useMemo(() => asking<Charted>(), []);
  const look = (): Promise<void> => ask(fetchCharted);
  useEffect(() => {
    look();
  }, []);
  return (
    <main class="book-view" id="main" tabIndex={-1}>
      <h1>{words.drift.heading}</h1>
      <BookWays />
      <p>{words.drift.why}</p>
      <Answered asked={answer.value} again={look}>
        {({ controls, drift }) =>
          controls.length === 0 ? (
            <div class="empty">
              <p class="empty-what">{words.drift.empty}</p>
              <p>{words.drift.emptyNext}</p>
              <button type="button" onClick={() => goTo('plan')}>
                {words.plan.heading}
              </button>
            </div>
          ) : (
            <>
              {drift?.kind === 'chart' && <ChartPart chart={drift} />}
              {drift?.kind === 'gathering' && <p>{words.drift.gathering(drift.count, drift.needed)}</p>}
              <table class="plan-table">
                <thead>
                  <tr>
                    <th scope="col">#</th>
                    <th scope="col">{words.drift.date}</th>
                    <th scope="col">{words.drift.shift}</th>
                  </tr>
                </thead>
                <tbody>
                  {controls.map(({ id, exposedAt, shiftStops }, i) => (
                    <tr key={id}>
                      <th scope="row">{i + 1}</th>
                      <td>{formatMoment(Date.parse(exposedAt))}</td>
                      <td>
                        {shiftStops.value === null ? '–' : formatNumber(shiftStops.value, 2)}
                        {shiftStops.low !== null && shiftStops.high !== null && (
                          <span class="fine">
                            {' '}
                            ({formatNumber(shiftStops.low, 2)} – {formatNumber(shiftStops.high, 2)})
                          </span>
                        )}
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </>
          )
        }
      </Answered>
    </main>
  );
};
