import { type Homography, project, unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { fitLine } from './quadFit.ts';
import { crossing, isConvex, sideLengths } from './quadGeometry.ts';
import { medianOf, pixelAt } from './sampleTone.ts';
import type { ToneField } from './toneField.ts';

const stations = 28;

/**
 * Where do the dyed steps really end sideways? Walks outwards from the band's middle line to the first lasting
 * change of tone, at many places along it, and lays a line through what it meets on either side; places with more
 * dye count more, since bare cloth does not differ from its own margin.
 */
export function tightenFrame(field: ToneField, quad: Quad): Quad {
  const square = unitSquareTo(quad);
  if (!square) return quad;
  const middles = Array.from({ length: stations }, (_, i) => {
    const t = (i + 0.5) / stations;
    return { t, tone: toneAt(field, square, t, 0.35, 0.65) };
  });
  const lightest = Math.max(...middles.map((m) => m.tone?.[0] ?? Number.NEGATIVE_INFINITY));
  const bare = middles.find((m) => m.tone?.[0] === lightest)?.tone;
  if (!bare) return quad;
  const sides = [-1, 1].map((side) => {
    const points: Point[] = [];
    const trust: number[] = [];
    for (const { t, tone } of middles) {
      if (!tone) continue;
      const v = edgeFrom(field, square, t, tone, side as 1 | -1, sideLengths(quad)[1]);
      if (v === undefined) continue;
      points.push(project(square, t, v));
      trust.push(0.05 + Math.min(1, distance(tone, bare)));
    }
    return points.length >= stations / 3 ? commonLine(points, trust) : undefined;
  });
  const [upper, lower] = [
    sides[0] ?? ([quad[0], quad[1]] as const),
    sides[1] ?? ([quad[3], quad[2]] as const),
  ];
  const corners = [
    crossing(upper[0], upper[1], quad[0], quad[3]),
    crossing(upper[0], upper[1], quad[1], quad[2]),
    crossing(lower[0], lower[1], quad[1], quad[2]),
    crossing(lower[0], lower[1], quad[0], quad[3]),
  ];
  if (corners.some((c) => c === undefined)) return quad;
  const tight = corners as unknown as Quad;
  const widths = [sideLengths(quad)[1], sideLengths(tight)[1]];
  if (!isConvex(tight) || widths[1] < 0.4 * widths[0] || widths[1] > 2 * widths[0]) return quad;
  return tight;
}

/** The line that most of the trust lies on, within a pixel and a half; the outline of cloth and of dye do not mix. */
function commonLine(points: readonly Point[], trust: readonly number[]): readonly [Point, Point] | undefined {
  let best: number[] = [];
  let most = 0;
  for (let i = 0; i < points.length; i++) {
    for (let j = i + Math.ceil(points.length / 6); j < points.length; j++) {
      const [ax, ay] = points[i];
      const length = Math.hypot(points[j][0] - ax, points[j][1] - ay);
      if (length < 1) continue;
      const nx = -(points[j][1] - ay) / length;
      const ny = (points[j][0] - ax) / length;
      let sum = 0;
      const near = points.map((p, k) => {
        const off = (p[0] - ax) * nx + (p[1] - ay) * ny;
        const weight = trust[k] * Math.exp(-((off / 1.5) ** 2));
        sum += weight;
        return weight;
      });
      if (sum > most) {
        most = sum;
        best = near;
      }
    }
  }
  return most > 0 ? fitLine(points, best) : undefined;
}

function distance(a: readonly number[], b: readonly number[]): number {
  return Math.hypot(a[0] - b[0], 0.5 * (a[1] - b[1]), 0.35 * (a[2] - b[2]));
}

/** Medians over a small block: a few places along, several across. */
function toneAt(
  field: ToneField,
  square: Homography,
  t: number,
  v0: number,
  v1: number,
): number[] | undefined {
  const values: [number[], number[], number[]] = [[], [], []];
  for (const dt of [-0.012, -0.004, 0.004, 0.012]) {
    for (let k = 0; k < 7; k++) {
      const at = pixelAt(field, project(square, t + dt, v0 + ((k + 0.5) / 7) * (v1 - v0)));
      if (at < 0) return undefined;
      values[0].push(field.light[at]);
      values[1].push(field.redGreen[at]);
      values[2].push(field.blueGreen[at]);
    }
  }
  return values.map(medianOf);
}

/** First lasting change of tone from the middle outwards, as a place across the band; undefined where none. */
function edgeFrom(
  field: ToneField,
  square: Homography,
  t: number,
  tone: readonly number[],
  side: 1 | -1,
  widthPx: number,
): number | undefined {
  const step = 1 / Math.max(12, widthPx);
  const far: number[] = [];
  for (let k = 0; k * step < 1.05; k++) {
    const v = 0.5 + side * k * step;
    const mean = [0, 0, 0];
    for (const dt of [-0.012, -0.006, 0, 0.006, 0.012]) {
      const at = pixelAt(field, project(square, t + dt, v));
      if (at < 0) return undefined;
      mean[0] += field.light[at] / 5;
      mean[1] += field.redGreen[at] / 5;
      mean[2] += field.blueGreen[at] / 5;
    }
    far.push(distance(mean, tone));
  }
  const still = far.slice(0, Math.floor(0.2 / step));
  const bar = Math.max(0.06, 4 * medianOf(still));
  for (let k = still.length; k + 4 < far.length; k++) {
    if (far[k] < bar || far[k + 1] < bar || far[k + 2] < bar) continue;
    const level = Math.max(far[k + 3], far[k + 4]) / 2;
    let at = k;
    while (at < k + 4 && far[at] < level) at++;
    return 0.5 + side * (at - 0.5) * step;
  }
  return undefined;
}
