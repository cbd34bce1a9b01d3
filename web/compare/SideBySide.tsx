import { colourAt, depthPercent, exposureFor, lightnessOfDepth } from '../../analysis/curve/evaluate.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { ScrollPlace } from '../parts/ScrollPlace.tsx';
import { Swatch } from '../parts/Swatch.tsx';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { bandAt } from './bandAt.ts';
import type { Band } from './CurvesPlot.tsx';
import type { Compared } from './comparable.ts';
import { letterOf } from './strokes.ts';

/** One colour of a strip with what is to be read beside it. */
interface Cell {
  readonly colour: { readonly L: number; readonly a: number; readonly b: number };
  readonly lines: readonly string[];
}

interface Row {
  readonly name: string;
  /** Null where the strip does not tell. */
  readonly cells: readonly (Cell | null)[];
}

/** Colours of all strips beside each other, row by row, on one neutral mat. */
const Colours = ({
  id,
  heading,
  corner,
  strips,
  rows,
}: {
  id: string;
  heading: string;
  corner: string;
  strips: readonly Compared[];
  rows: readonly Row[];
}) => (
  <section aria-labelledby={id}>
    <h2 id={id}>{heading}</h2>
    <ScrollPlace labelledBy={id}>
      <table class="side-by-side">
        <thead>
          <tr>
            <th scope="col">{corner}</th>
            {strips.map(({ key }, i) => (
              <th key={key} scope="col">
                {letterOf(i)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, cells }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {cells.map((cell, i) =>
                cell === null ? (
                  <td key={strips[i].key} class="fine">
                    {words.compare.outside}
                  </td>
                ) : (
                  <td key={strips[i].key}>
                    <Swatch {...cell.colour} />
                    {cell.lines.map((line) => (
                      <span key={line} class="swatch-words">
                        {line}
                      </span>
                    ))}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollPlace>
  </section>
);

const MOST_ROWS = 8;

/** Exposures a stop apart over what the strips cover. */
const sharedTimes = (curves: readonly Curve[]): readonly number[] => {
  const first = Math.min(...curves.map(({ shortestSeconds }) => shortestSeconds));
  const last = Math.max(...curves.map(({ longestSeconds }) => longestSeconds));
  const count = Math.min(MOST_ROWS, Math.floor(Math.log2(last / first)) + 1);
  return Array.from({ length: count }, (_, i) => first * 2 ** i);
};

const covers = (curve: Curve, seconds: number): boolean =>
  seconds >= curve.shortestSeconds / 1.01 && seconds <= curve.longestSeconds * 1.01;

/** What the same light makes of each. */
export const SameTime = ({
  strips,
  bands,
}: {
  strips: readonly Compared[];
  /** How surely each curve is known, once that is here. */
  bands: readonly (Band | null)[];
}) => (
  <Colours
    id="same-time-heading"
    heading={words.compare.sameTime}
    corner={words.plan.time}
    strips={strips}
    rows={sharedTimes(strips.map(({ curve }) => curve)).map((seconds) => ({
      name: formatTime(seconds),
      cells: strips.map(({ curve }, i) => {
        if (!covers(curve, seconds)) return null;
        const colour = colourAt(curve, seconds);
        const band = bands[i] && bandAt(bands[i], seconds);
        return {
          colour,
          lines: [
            `L* ${formatNumber(colour.L, 1)}${band ? ` (${formatNumber(band.low, 1)} – ${formatNumber(band.high, 1)})` : ''}`,
            words.target.depth(Math.round(depthPercent(curve, colour.L))),
          ],
        };
      }),
    }))}
  />
);

const DEPTHS = [10, 25, 50, 75, 90];

/** How long each takes to come as far of its own way. */
export const SameDepth = ({ strips }: { strips: readonly Compared[] }) => (
  <Colours
    id="same-depth-heading"
    heading={words.compare.sameDepth}
    corner={words.compare.ownDepth}
    strips={strips}
    rows={DEPTHS.map((percent) => ({
      name: words.target.depth(percent),
      cells: strips.map(({ curve }) => {
        const seconds = exposureFor(curve, lightnessOfDepth(curve, percent));
        if (seconds === null || seconds > curve.longestSeconds * 2) return null;
        const colour = colourAt(curve, seconds);
        return { colour, lines: [formatTime(seconds), `L* ${formatNumber(colour.L, 1)}`] };
      }),
    }))}
  />
);
