import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { median } from 'simple-statistics';
import type { SurroundCell } from '../tiles/tile.ts';

/** The cells that look like one surface under smoothly changing light. */
export interface Surface {
  /** Indices into the given cells. */
  readonly cells: readonly number[];
  /** Share of the candidate cells that belong to it. */
  readonly share: number;
}

const TRIALS = 200;
const SKIPPED = 20;
/** Half-widths in ln light within which a cell counts as the same surface: from a matt board to strong wood grain. */
const TOLERANCES = [0.06, 0.12, 0.24, 0.48] as const;
const WIDEST = TOLERANCES[TOLERANCES.length - 1];
/** A surface stands apart when a band twice as wide holds hardly more of the cells. */
const APART = 0.75;
const FEWEST_CELLS = 12;
/** Table light does not change by more than a factor of three over half a diagonal. */
const STEEPEST = 1.1;

/** Solves the plane z = p + q·x + r·y through three points; null where they lie on a line. */
const planeThrough = (p: readonly (readonly [number, number, number])[]): [number, number, number] | null => {
  const [[x0, y0, z0], [x1, y1, z1], [x2, y2, z2]] = p;
  const det = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  if (Math.abs(det) < 1e-9) return null;
  const q = ((z1 - z0) * (y2 - y0) - (z2 - z0) * (y1 - y0)) / det;
  const r = ((x1 - x0) * (z2 - z0) - (x2 - x0) * (z1 - z0)) / det;
  return [z0 - q * x0 - r * y0, q, r];
};

const TRIPLE = [0, 1, 2] as const;

/** ln light of three channels as planes over the table. */
type Plane = readonly [number, number, number];
type Planes = readonly [Plane, Plane, Plane];

/**
 * Which cells around card and strip are one surface, whatever else lies in the photo? Planes of ln light are laid
 * through three cells at a time, in all channels, and the one that most cells agree with wins; cells near the marks
 * count more. The band about the plane is as narrow as still holds a surface that stands apart from the rest: cut
 * narrower, a grain's light parts would be taken for even light.
 *
 * @param cells candidates. @param near weight of each cell, 0..1. @param half half the photo's diagonal, pixels.
 * @param seed of the drawing of triples.
 */
export const findSurface = (
  cells: readonly SurroundCell[],
  near: readonly number[],
  half: number,
  seed: number,
): Surface => {
  if (cells.length < FEWEST_CELLS) return { cells: [], share: 0 };
  const count = cells.length;
  const lnLight = (c: 0 | 1 | 2) => Float64Array.from(cells, ({ rgb }) => Math.log(Math.max(rgb[c], 1e-4)));
  const logs = [lnLight(0), lnLight(1), lnLight(2)] as const;
  const textured = median(cells.map((c) => c.texture));
  const weight = Float64Array.from(
    cells,
    (c, i) => near[i] / (1 + (c.texture / Math.max(textured, 0.02)) ** 2),
  );
  const xs = Float64Array.from(cells, (c) => c.x / half);
  const ys = Float64Array.from(cells, (c) => c.y / half);
  const [red, green, blue] = logs;
  const worst = new Float64Array(count);
  /** How far each cell lies off the planes in the channel where it is farthest; what lies beyond all bands stays rough. */
  const measure = ([[p0, q0, r0], [p1, q1, r1], [p2, q2, r2]]: Planes): void => {
    for (let i = 0; i < count; i++) {
      const x = xs[i];
      const y = ys[i];
      const far = Math.abs(green[i] - p1 - q1 * x - r1 * y);
      worst[i] =
        far > WIDEST
          ? far
          : Math.max(far, Math.abs(red[i] - p0 - q0 * x - r0 * y), Math.abs(blue[i] - p2 - q2 * x - r2 * y));
    }
  };
  const random = xoroshiro128plus(seed);
  // The generator's first numbers still resemble a small seed.
  for (let i = 0; i < SKIPPED; i++) uniformInt(random, 0, 1);
  const best: (Planes | null)[] = TOLERANCES.map(() => null);
  const bestScore = TOLERANCES.map(() => 0);
  const score = TOLERANCES.map(() => 0);
  for (let trial = 0; trial < TRIALS; trial++) {
    const three = TRIPLE.map(() => uniformInt(random, 0, cells.length - 1));
    const planes: [number, number, number][] = [];
    for (const c of TRIPLE) {
      const plane = planeThrough(three.map((i) => [xs[i], ys[i], logs[c][i]]));
      if (plane && Math.hypot(plane[1], plane[2]) <= STEEPEST) planes.push(plane);
    }
    if (planes.length < TRIPLE.length) continue;
    measure(planes as unknown as Planes);
    score.fill(0);
    for (let i = 0; i < count; i++) {
      const distance = worst[i];
      if (distance > WIDEST) continue;
      // Narrowest band first; the wider ones hold what the narrower ones do.
      let t = TOLERANCES.length - 1;
      while (t > 0 && distance <= TOLERANCES[t - 1]) t--;
      score[t] += weight[i];
    }
    for (let t = 1; t < TOLERANCES.length; t++) score[t] += score[t - 1];
    for (let t = 0; t < TOLERANCES.length; t++)
      if (score[t] > bestScore[t]) {
        bestScore[t] = score[t];
        best[t] = planes as unknown as Planes;
      }
  }
  const total = near.reduce((s, v) => s + v, 0);
  const found = TOLERANCES.map((tolerance, t): Surface => {
    const planes = best[t];
    if (planes) measure(planes);
    const inside = planes ? cells.flatMap((_, i) => (worst[i] <= tolerance ? [i] : [])) : [];
    return { cells: inside, share: inside.reduce((s, i) => s + near[i], 0) / total };
  });
  const apart = found.findIndex((s, t) => t + 1 < found.length && s.share >= APART * found[t + 1].share);
  const chosen = apart < 0 ? found.length - 1 : apart;
  return {
    cells: found[Math.min(found.length - 1, chosen + (chosen > 0 ? 1 : 0))].cells,
    share: found[chosen].share,
  };
};
