import { lightnessAt } from '../../analysis/curve/evaluate.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { Z90 } from '../plotFrame.ts';
import { formatTime } from '../times.ts';
import { cssColour } from '../trueColour.ts';
import { words } from '../words.ts';

/** Lines are told apart by their strokes, never by colour. */
const STROKES = [
  '',
  '12 5',
  '3 5',
  '14 4 3 4',
  '7 3',
  '1 4',
  '18 6',
  '8 3 2 3 2 3',
  '5 8',
  '2 2',
  '16 3',
  '10 10',
];

export const letterOf = (index: number): string => String.fromCharCode(65 + index);

const HIGH = 380;
const LEFT = 44;
const RIGHT = 30;
const TOP = 40;
const FOOT = 34;

/** A short piece of a strip's line, for its name in a list. */
export const LineKey = ({ index }: { index: number }) => (
  <svg width="52" height="14" viewBox="0 0 52 14" aria-hidden="true" class="line-key">
    <path d="M2 7H50" stroke-dasharray={STROKES[index]} />
  </svg>
);

/** Several strips' curves over one axis of time, stops above, minutes below. */
export const CurvesPlot = ({
  strips,
  widthPx,
}: {
  strips: readonly { readonly name: string; readonly curve: Curve }[];
  widthPx: number;
}) => {
  const curves = strips.map(({ curve }) => curve);
  const first = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds)) / 1.3;
  const last = Math.max(...curves.map(({ longestSeconds }) => longestSeconds)) * 1.3;
  const Ls = curves.flatMap(({ points }) => points.flatMap(({ L, uL }) => [L - Z90 * uL, L + Z90 * uL]));
  const lightest = Math.min(100, 10 * Math.ceil(Math.max(...Ls) / 10));
  const darkest = Math.max(0, 10 * Math.floor(Math.min(...Ls) / 10));
  const x = (seconds: number): number =>
    LEFT + ((widthPx - LEFT - RIGHT) * Math.log(seconds / first)) / Math.log(last / first);
  const y = (L: number): number => TOP + ((HIGH - TOP - FOOT) * (lightest - L)) / (lightest - darkest);
  const path = (curve: Curve): string => {
    const [from, to] = [curve.shortestSeconds / 1.3, curve.longestSeconds * 1.3];
    return Array.from({ length: 81 }, (_, i) => {
      const seconds = from * (to / from) ** (i / 80);
      return `${i === 0 ? 'M' : 'L'}${x(seconds).toFixed(1)} ${y(lightnessAt(curve, seconds)).toFixed(1)}`;
    }).join('');
  };
  const start = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds));
  const stops = Math.floor(Math.log2(last / start));
  const every = Math.max(1, Math.ceil((stops + 1) / ((widthPx - LEFT - RIGHT) / 56)));
  const ticks = Array.from({ length: Math.floor(stops / every) + 1 }, (_, i) => i * every);
  return (
    <svg
      class="plot"
      width={widthPx}
      height={HIGH}
      viewBox={`0 0 ${widthPx} ${HIGH}`}
      role="img"
      aria-label={words.compare.plotLabel(strips.map(({ name }, i) => `${letterOf(i)} ${name}`).join(', '))}
    >
      {Array.from({ length: (lightest - darkest) / 10 + 1 }, (_, i) => darkest + 10 * i).map((L) => (
        <g key={L}>
          <path d={`M${LEFT} ${y(L)}H${widthPx - RIGHT}`} class="grid" />
          <text x={LEFT - 8} y={y(L) + 4} class="tick" text-anchor="end">
            {formatNumber(L, 0)}
          </text>
        </g>
      ))}
      <text x={LEFT - 8} y={TOP - 14} class="tick" text-anchor="end">
        L*
      </text>
      <text x={widthPx - RIGHT} y={12} class="tick" text-anchor="end">
        {words.stage.stops}
      </text>
      <path d={`M${LEFT} ${TOP}H${widthPx - RIGHT}M${LEFT} ${HIGH - FOOT}H${widthPx - RIGHT}`} class="axis" />
      {ticks.map((stop) => {
        const at = x(start * 2 ** stop);
        return (
          <g key={stop}>
            <path d={`M${at} ${TOP}v-6M${at} ${HIGH - FOOT}v7`} class="axis" />
            <text x={at} y={TOP - 12} class="tick" text-anchor="middle">
              {stop === 0 ? '0' : `+${stop}`}
            </text>
            <text x={at} y={HIGH - FOOT + 22} class="tick" text-anchor="middle">
              {formatTime(start * 2 ** stop)}
            </text>
          </g>
        );
      })}
      {curves.map((curve, i) => (
        <g key={i}>
          <path d={path(curve)} class="curve" stroke-dasharray={STROKES[i]} />
          {curve.points
            .filter(({ seconds }) => seconds > 0)
            .map(({ seconds, L, a, b, uL }) => (
              <g key={seconds}>
                <path d={`M${x(seconds)} ${y(L + Z90 * uL)}V${y(L - Z90 * uL)}`} class="bar" />
                <circle
                  cx={x(seconds)}
                  cy={y(L)}
                  r="5"
                  class="point"
                  style={{ fill: cssColour({ L, a, b }) }}
                />
              </g>
            ))}
          <text
            x={Math.min(widthPx - 10, x(curve.longestSeconds * 1.3) + 6)}
            y={y(lightnessAt(curve, curve.longestSeconds * 1.3)) + 5 + (i % 2) * 12}
            class="tick plot-letter"
          >
            {letterOf(i)}
          </text>
        </g>
      ))}
    </svg>
  );
};
