import { type Homography, project, unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { fitLine } from './quadFit.ts';
import { crossing, isConvex } from './quadGeometry.ts';
import { medianOf, paleness, pixelAt } from './sampleTone.ts';
import type { ToneField } from './toneField.ts';

const STATIONS = 48;
const PLACES = 96;
/** What lies this near the outline, as a share of the width, is rim: bare cloth, or its shadow. */
const RIM_PLACES = [2, 3, 4];
/** A rim that differs by less than this is the same as the middle. */
const LEAST_CHANGE = 0.06;
const SHARES = [1, 0.5, 0.35] as const;

/**
 * Which part of the cloth has the steps, sideways? Bare cloth may run along both long sides. Looks, at many places
 * along, for where the tone passes half way from the middle's to the rim's, and lays a line through them on either side.
 */
export const dyedPart = (field: ToneField, cloth: Quad): Quad => {
  const square = unitSquareTo(cloth);
  if (!square) return cloth;
  const stations = Array.from({ length: STATIONS }, (_, i) => {
    const t = 0.03 + (0.94 * (i + 0.5)) / STATIONS;
    const line = lineAcross(field, square, t);
    return line
      ? [{ t, line, middle: medianTone(line.slice(Math.floor(0.4 * PLACES), Math.ceil(0.6 * PLACES))) }]
      : [];
  }).flat();
  const bare = stations.reduce<Tone>(
    (palest, { middle }) => (palenessOf(middle) > palenessOf(palest) ? middle : palest),
    [-9, 0, 0],
  );
  const upper: Point[] = [];
  const lower: Point[] = [];
  const trust: [number[], number[]] = [[], []];
  for (const { t, line, middle } of stations)
    for (const side of [0, 1] as const) {
      const inwards = side === 0 ? line : [...line].reverse();
      const rim = medianTone(RIM_PLACES.map((k) => inwards[k]));
      if (distance(rim, middle) < LEAST_CHANGE) continue;
      // From the rim inwards: the rim is even, the middle may be of a coarse weave.
      let at = RIM_PLACES[RIM_PLACES.length - 1];
      while (at < PLACES / 2 && distance(inwards[at], rim) < distance(inwards[at], middle)) at++;
      const v = at / PLACES;
      (side === 0 ? upper : lower).push(project(square, t, side === 0 ? v : 1 - v));
      // Bare steps end where the cloth does; only dyed ones tell where the dye ends.
      trust[side].push(0.02 + Math.min(1, distance(middle, bare) / 0.3));
    }
  const lines = [upper, lower].map((points, side) =>
    points.length >= STATIONS / 4 ? fitLine(points, trust[side]) : undefined,
  );
  const [top, bottom] = [lines[0] ?? [cloth[0], cloth[1]], lines[1] ?? [cloth[3], cloth[2]]];
  const corners = [
    crossing(top[0], top[1], cloth[0], cloth[3]),
    crossing(top[0], top[1], cloth[1], cloth[2]),
    crossing(bottom[0], bottom[1], cloth[1], cloth[2]),
    crossing(bottom[0], bottom[1], cloth[0], cloth[3]),
  ];
  if (corners.some((corner) => corner === undefined)) return cloth;
  const dyed = corners as unknown as Quad;
  return isConvex(dyed) ? dyed : cloth;
};

type Tone = readonly [number, number, number];

const distance = (a: Tone, b: Tone): number => Math.hypot(...SHARES.map((share, p) => share * (a[p] - b[p])));

const palenessOf = ([light, red, blue]: Tone): number =>
  paleness(light, red, blue, { redGreen: 0, blueGreen: 0 });

const medianTone = (tones: readonly Tone[]): Tone => [
  medianOf(tones.map((tone) => tone[0])),
  medianOf(tones.map((tone) => tone[1])),
  medianOf(tones.map((tone) => tone[2])),
];

/** Tones from side to side, each the mean of a few places along. */
const lineAcross = (field: ToneField, square: Homography, t: number): Tone[] | null => {
  const line: Tone[] = [];
  for (let k = 0; k < PLACES; k++) {
    const sum = [0, 0, 0];
    for (const dt of [-0.008, -0.004, 0, 0.004, 0.008]) {
      const at = pixelAt(field, project(square, t + dt, (k + 0.5) / PLACES));
      if (at < 0) return null;
      sum[0] += field.light[at] / 5;
      sum[1] += field.redGreen[at] / 5;
      sum[2] += field.blueGreen[at] / 5;
    }
    line.push([sum[0], sum[1], sum[2]]);
  }
  return line;
};
