import { lightnessAt } from '../../analysis/curve/evaluate.ts';
import type { BandPoint } from '../../server/contracts/comparison.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { Z90 } from '../plotFrame.ts';
import { formatTime } from '../times.ts';
import { cssColour } from '../trueColour.ts';
import { words } from '../words.ts';
import { keptApart, onTwoLines } from './apart.ts';
import { letterOf, pointOf, SLANTS, STROKES } from './strokes.ts';

const HIGH = 380;
const LEFT = 44;
const RIGHT = 30;
const TOP = 40;
const FOOT = 34;
const KEY_PX = 62;
const LINE_PX = 18;
/** About how wide a letter of the names is. */
const LETTER_PX = 7.6;

export type Band = readonly BandPoint[];

const Point = ({ index, fill }: { index: number; fill?: string }) => {
  const { outline, dotted } = pointOf(index);
  return (
    <>
      <path d={outline} class="point" {...(fill !== undefined && { style: { fill } })} />
      {dotted && <circle r="1.6" class="point-dot" />}
    </>
  );
};

/** Several strips' curves over one axis of time, stops above, minutes below, and what each line is. */
export const CurvesPlot = ({
  strips,
  bands,
  widthPx,
}: {
  strips: readonly { readonly name: string; readonly isDemo: boolean; readonly curve: Curve }[];
  /** Interval of each curve, in the order of the strips; null where it is not shown. */
  bands: readonly (Band | null)[];
  widthPx: number;
}) => {
  const curves = strips.map(({ curve }) => curve);
  const first = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds)) / 1.3;
  const last = Math.max(...curves.map(({ longestSeconds }) => longestSeconds)) * 1.3;
  const Ls = curves.flatMap((curve) => [
    lightnessAt(curve, curve.shortestSeconds / 1.3),
    ...curve.points.filter(({ seconds }) => seconds > 0).flatMap(({ L, uL }) => [L - Z90 * uL, L + Z90 * uL]),
  ]);
  const lightest = Math.min(100, 10 * Math.ceil(Math.max(...Ls) / 10));
  const darkest = Math.max(0, 10 * Math.floor(Math.min(...Ls) / 10));
  const x = (seconds: number): number =>
    LEFT + ((widthPx - LEFT - RIGHT) * Math.log(seconds / first)) / Math.log(last / first);
  const y = (L: number): number =>
    TOP +
    ((HIGH - TOP - FOOT) * (lightest - Math.min(lightest, Math.max(darkest, L)))) / (lightest - darkest);
  const at = (seconds: number, L: number): string => `${x(seconds).toFixed(1)} ${y(L).toFixed(1)}`;
  const path = (curve: Curve): string => {
    const [from, to] = [curve.shortestSeconds / 1.3, curve.longestSeconds * 1.3];
    return Array.from({ length: 81 }, (_, i) => {
      const seconds = from * (to / from) ** (i / 80);
      return `${i === 0 ? 'M' : 'L'}${at(seconds, lightnessAt(curve, seconds))}`;
    }).join('');
  };
  const edge = (band: Band, side: 'low' | 'high'): string =>
    band.map((point, i) => `${i === 0 ? 'M' : 'L'}${at(point.seconds, point[side])}`).join('');
  const around = (band: Band): string =>
    `${edge(band, 'high')}${[...band]
      .reverse()
      .map((point) => `L${at(point.seconds, point.low)}`)
      .join('')}Z`;
  const start = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds));
  const stops = Math.floor(Math.log2(last / start));
  const every = Math.max(1, Math.ceil((stops + 1) / ((widthPx - LEFT - RIGHT) / 56)));
  const ticks = Array.from({ length: Math.floor(stops / every) + 1 }, (_, i) => i * every);
  const ends = curves.map((curve) => ({
    x: Math.min(widthPx - 10, x(curve.longestSeconds * 1.3) + 6),
    y: y(lightnessAt(curve, curve.longestSeconds * 1.3)) + 5,
  }));
  const letterYs = keptApart(ends, 13, 14);
  const names = strips.map(({ name }) => onTwoLines(name, Math.floor((widthPx - KEY_PX - 24) / LETTER_PX)));
  const rowYs = names.map((_, i) =>
    names.slice(0, i).reduce((sum, lines) => sum + LINE_PX * lines.length + 8, HIGH + 22),
  );
  const highPx = HIGH + 22 + names.reduce((sum, lines) => sum + LINE_PX * lines.length + 8, 0);
  return (
    <svg
      class="plot"
      width={widthPx}
      height={highPx}
      viewBox={`0 0 ${widthPx} ${highPx}`}
      role="img"
      aria-label={words.compare.plotLabel(strips.map(({ name }, i) => `${letterOf(i)} ${name}`).join(', '))}
    >
      <defs>
        {strips.map((_, i) => (
          <pattern
            key={i}
            id={`slant-${i}`}
            width="7"
            height="7"
            patternUnits="userSpaceOnUse"
            patternTransform={`rotate(${SLANTS[i]})`}
          >
            <path d="M0 0V7" class="hatch" />
          </pattern>
        ))}
      </defs>
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
      {x(start) > LEFT + 20 && (
        <text x={2} y={HIGH - FOOT + 22} class="tick">
          {words.stage.minutes}
        </text>
      )}
      <path d={`M${LEFT} ${TOP}H${widthPx - RIGHT}M${LEFT} ${HIGH - FOOT}H${widthPx - RIGHT}`} class="axis" />
      {ticks.map((stop) => {
        const tick = x(start * 2 ** stop);
        return (
          <g key={stop}>
            <path d={`M${tick} ${TOP}v-6M${tick} ${HIGH - FOOT}v7`} class="axis" />
            <text x={tick} y={TOP - 12} class="tick" text-anchor="middle">
              {stop === 0 ? '0' : `+${stop}`}
            </text>
            <text x={tick} y={HIGH - FOOT + 22} class="tick" text-anchor="middle">
              {formatTime(start * 2 ** stop)}
            </text>
          </g>
        );
      })}
      {bands.map(
        (band, i) =>
          band && (
            <g key={i} class="band" data-strip={letterOf(i)}>
              <path d={around(band)} class="interval" />
              <path d={around(band)} fill={`url(#slant-${i})`} />
              <path d={`${edge(band, 'low')}${edge(band, 'high')}`} class="band-edge" />
            </g>
          ),
      )}
      {curves.map((curve, i) => (
        <g key={i}>
          <path d={path(curve)} class="curve" stroke-dasharray={STROKES[i]} />
          {curve.points
            .filter(({ seconds }) => seconds > 0)
            .map(({ seconds, L, a, b, uL }) => (
              <g key={seconds}>
                <path d={`M${x(seconds)} ${y(L + Z90 * uL)}V${y(L - Z90 * uL)}`} class="bar" />
                <g transform={`translate(${at(seconds, L)})`}>
                  <Point index={i} fill={cssColour({ L, a, b })} />
                </g>
              </g>
            ))}
          <text x={ends[i].x} y={letterYs[i]} class="tick plot-letter">
            {letterOf(i)}
          </text>
        </g>
      ))}
      {strips.map(({ isDemo }, i) => (
        <g key={i} class="line-name">
          <path d={`M2 ${rowYs[i] - 5}H50`} class="curve" stroke-dasharray={STROKES[i]} />
          <g transform={`translate(26 ${rowYs[i] - 5})`}>
            <Point index={i} />
          </g>
          <text x={KEY_PX} y={rowYs[i]} class="tick plot-letter">
            {letterOf(i)}
          </text>
          {names[i].map((line, row) => (
            <text
              key={row}
              x={KEY_PX + 20}
              y={rowYs[i] + row * LINE_PX}
              class="tick"
              {...(isDemo && { lang: 'en' })}
            >
              {line}
            </text>
          ))}
        </g>
      ))}
    </svg>
  );
};
