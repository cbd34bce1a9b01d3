import type { DriftAnswer } from '../../server/contracts/drift.ts';
import { formatDay, formatNumber } from '../numbers.ts';
import { words } from '../words.ts';

type Chart = Extract<DriftAnswer['drift'], { kind: 'chart' }>;

const LEFT = 52;
const RIGHT = 8;
const TOP = 26;
const VALUES_HIGH = 250;
const RANGES_HIGH = 96;
const BETWEEN = 44;
const FOOT = 40;
const KEY_PX = 22;

/** Where a scale of stops lies on the drawing. */
const scaleOf = (ends: readonly number[], top: number, high: number) => {
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const room = Math.max(0.02, (most - least) * 0.12);
  return (stops: number): number => top + (high * (most + room - stops)) / (most - least + 2 * room);
};

/**
 * Shift of each control scrap in the order of time, with mean and limits where there are enough; below, how far each is
 * from the one before.
 */
export const DriftPlot = ({
  values,
  dates,
  chart,
  widthPx,
}: {
  /** Shifts in stops, oldest first; those of the present baseline where there is a chart. */
  values: readonly number[];
  dates: readonly string[];
  chart: Chart | null;
  widthPx: number;
}) => {
  const limits = chart?.individuals ?? null;
  const y = scaleOf([...values, ...(limits ? [limits.lower, limits.upper] : [0])], TOP, VALUES_HIGH);
  const rangesTop = TOP + VALUES_HIGH + BETWEEN;
  const yRange = scaleOf(
    limits ? [0, limits.movingRangeUpper, ...limits.movingRanges] : [0, 1],
    rangesTop,
    RANGES_HIGH,
  );
  const x = (index: number): number => LEFT + ((index + 0.5) * (widthPx - LEFT - RIGHT)) / values.length;
  const odd = new Set(
    chart?.findings.filter(({ code }) => code !== 'moving-range').map(({ index }) => index - chart.from),
  );
  const oddRange = new Set(limits?.rangeSignals);
  const floor = limits ? rangesTop + RANGES_HIGH : TOP + VALUES_HIGH;
  const keys = limits ? (['mean', 'limit', 'average', 'odd'] as const) : [];
  const perRow = widthPx < 560 ? 2 : 4;
  const high = floor + FOOT + KEY_PX * Math.ceil(keys.length / perRow);
  const every = Math.max(1, Math.ceil(values.length / Math.max(4, Math.floor((widthPx - LEFT) / 34))));
  const across = (stops: number, scale: (s: number) => number, look: string) => (
    <path d={`M${LEFT} ${scale(stops)}H${widthPx - RIGHT}`} class={look} />
  );
  const label = (stops: number, scale: (s: number) => number) => (
    <text x={LEFT - 6} y={scale(stops) + 4} class="tick" text-anchor="end">
      {formatNumber(stops, 2)}
    </text>
  );
  const line = (list: readonly number[], scale: (s: number) => number, from = 0): string =>
    list.map((stops, i) => `${i === 0 ? 'M' : 'L'}${x(i + from)} ${scale(stops)}`).join('');
  return (
    <svg
      class="plot drift-plot"
      width={widthPx}
      height={high}
      viewBox={`0 0 ${widthPx} ${high}`}
      role="img"
      aria-label={words.drift.chartLabel}
    >
      <text x={2} y={14} class="tick">
        {/* A place to break a word is none in a drawing, and some programs show it. */}
        {words.drift.shift.replaceAll('\u00AD', '')}
      </text>
      {limits ? (
        <>
          {across(limits.mean, y, 'mean')}
          {across(limits.lower, y, 'limit')}
          {across(limits.upper, y, 'limit')}
          {label(limits.mean, y)}
          {label(limits.lower, y)}
          {label(limits.upper, y)}
        </>
      ) : (
        <>
          {across(0, y, 'grid')}
          {[...new Set([0, Math.min(...values), Math.max(...values)])]
            .filter((stops, i) => i === 0 || Math.abs(y(stops) - y(0)) > 14)
            .map((stops) => (
              <g key={stops}>{label(stops, y)}</g>
            ))}
        </>
      )}
      <path d={line(values, y)} class="axis" />
      {chart && <path d={line(chart.ewma.averages, y)} class="average" />}
      {values.map((stops, i) => (
        <circle key={i} cx={x(i)} cy={y(stops)} r={odd.has(i) ? 8 : 5} class={odd.has(i) ? 'odd' : 'value'} />
      ))}
      {limits && (
        <>
          <text x={2} y={rangesTop - 10} class="tick">
            {words.drift.ranges}
          </text>
          {across(0, yRange, 'axis')}
          {across(limits.meanMovingRange, yRange, 'mean')}
          {across(limits.movingRangeUpper, yRange, 'limit')}
          {label(0, yRange)}
          {label(limits.movingRangeUpper, yRange)}
          <path d={line(limits.movingRanges, yRange, 1)} class="axis" />
          {limits.movingRanges.map((range, i) => (
            <circle
              key={i}
              cx={x(i + 1)}
              cy={yRange(range)}
              r={oddRange.has(i + 1) ? 7 : 4}
              class={oddRange.has(i + 1) ? 'odd' : 'value'}
            />
          ))}
        </>
      )}
      {values.map(
        (_, i) =>
          i % every === 0 && (
            <text key={i} x={x(i)} y={floor + 16} class="tick" text-anchor="middle">
              {formatNumber(i + 1, 0)}
            </text>
          ),
      )}
      <text x={LEFT} y={floor + 33} class="tick">
        {formatDay(Date.parse(dates[0]))}
      </text>
      {dates.length > 1 && (
        <text x={widthPx - RIGHT} y={floor + 33} class="tick" text-anchor="end">
          {formatDay(Date.parse(dates[dates.length - 1]))}
        </text>
      )}
      {keys.map((key, i) => {
        const wide = (widthPx - 4) / perRow;
        const [left, middle] = [2 + (i % perRow) * wide, floor + FOOT + KEY_PX * Math.floor(i / perRow) + 10];
        return (
          <g key={key}>
            {key === 'odd' ? (
              <circle cx={left + 16} cy={middle} r="7" class="odd" />
            ) : (
              <path d={`M${left} ${middle}H${left + 34}`} class={key} />
            )}
            <text x={left + 42} y={middle + 4} class="tick">
              {words.drift.keys[key]}
            </text>
          </g>
        );
      })}
    </svg>
  );
};
