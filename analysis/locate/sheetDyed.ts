import { type Homography, project, unitSquareTo } from './homography.ts';
import type { Quad } from './marks.ts';
import { isConvex } from './quadGeometry.ts';
import { medianOf, paleness, pixelAt } from './sampleTone.ts';
import type { ToneAxes } from './toneField.ts';

const STATIONS = 48;
const PLACES = 96;
/** What lies this near the outline, as a share of the width, is rim: bare cloth, or its shadow. */
const RIM_PLACES = [2, 3, 4];
/** A rim that differs by less than this is the same as the middle. */
const LEAST_CHANGE = 0.06;
/** A place is dyed where its tone is further than this from the palest. */
const LEAST_DYE = 0.08;
const FEWEST = 5;
const SHARES = [1, 0.5, 0.35] as const;

/**
 * Which part of the cloth has the steps, sideways? Bare cloth may run along both long sides. Looks, at many places
 * along, for where the tone passes half way from the middle's to the rim's, and lays a line through them on either side.
 */
export const dyedPart = (field: ToneAxes, cloth: Quad): Quad => {
  const square = unitSquareTo(cloth);
  if (!square) return cloth;
  const stations = Array.from({ length: STATIONS }, (_, i) => {
    const t = 0.03 + (0.94 * (i + 0.5)) / STATIONS;
    const line = lineAcross(field, square, t);
    return line
      ? [{ t, line, middle: medianTone(line.slice(Math.floor(0.4 * PLACES), Math.ceil(0.6 * PLACES))) }]
      : [];
  }).flat();
  const pale = [...stations].sort((a, b) => palenessOf(b.middle) - palenessOf(a.middle));
  const bare = medianTone(pale.slice(0, Math.ceil(pale.length / 4)).map((station) => station.middle));
  // Bare steps end where the cloth does; only dyed ones tell where the dye ends.
  const dyed = stations.filter(({ middle }) => distance(middle, bare) > LEAST_DYE);
  if (dyed.length < FEWEST) return cloth;
  const [top, bottom] = ([0, 1] as const).map((side) =>
    edgeOf(
      dyed.map(({ t, line, middle }) => {
        const inwards = side === 0 ? line : [...line].reverse();
        const rim = medianTone(RIM_PLACES.map((k) => inwards[k]));
        const trust = Math.min(1, distance(middle, bare) / 0.3) ** 2;
        // Dyed to the edge.
        if (distance(rim, middle) < LEAST_CHANGE) return { t, v: 0, trust };
        // From the rim inwards: the rim is even, the middle may be of a coarse weave.
        let at = RIM_PLACES[RIM_PLACES.length - 1];
        while (at < PLACES / 2 && distance(inwards[at], rim) < distance(inwards[at], middle)) at++;
        return { t, v: at / PLACES, trust };
      }),
    ),
  );
  const corners: Quad = [
    project(square, 0, top.start),
    project(square, 1, top.end),
    project(square, 1, 1 - bottom.end),
    project(square, 0, 1 - bottom.start),
  ];
  return isConvex(corners) ? corners : cloth;
};

interface Vote {
  readonly t: number;
  /** How far in from the outline, as a share of the width. */
  readonly v: number;
  readonly trust: number;
}

/** Dye runs along the outline, or nearly: so much slant is expected, as a share of the width. */
const USUAL_SLANT = 0.04;
const VOTE_NOISE = 0.02;

/** Straight line through the votes, robust, and slanted only as far as they ask for it. */
const edgeOf = (votes: readonly Vote[]): { readonly start: number; readonly end: number } => {
  let [a, b] = [weightedMedian(votes), 0];
  for (const width of [0.15, 0.1, 0.06, 0.06]) {
    let [n, x, xx, y, xy] = [1e-9, 0, (VOTE_NOISE / USUAL_SLANT) ** 2, 0, 0];
    for (const { t, v, trust } of votes) {
      const off = (v - a - b * (t - 0.5)) / width;
      if (Math.abs(off) >= 1) continue;
      const w = trust * (1 - off * off) ** 2;
      n += w;
      x += w * (t - 0.5);
      xx += w * (t - 0.5) ** 2;
      y += w * v;
      xy += w * (t - 0.5) * v;
    }
    b = (xy - (x * y) / n) / (xx - (x * x) / n);
    a = (y - b * x) / n;
  }
  const inside = (v: number): number => Math.min(0.4, Math.max(0, v));
  return { start: inside(a - b / 2), end: inside(a + b / 2) };
};

const weightedMedian = (votes: readonly Vote[]): number => {
  const sorted = [...votes].sort((p, q) => p.v - q.v);
  let left = sorted.reduce((sum, { trust }) => sum + trust, 0) / 2;
  for (const { v, trust } of sorted) {
    left -= trust;
    if (left <= 0) return v;
  }
  return 0;
};

type Tone = readonly [number, number, number];

const distance = (a: Tone, b: Tone): number =>
  Math.sqrt(
    (SHARES[0] * (a[0] - b[0])) ** 2 + (SHARES[1] * (a[1] - b[1])) ** 2 + (SHARES[2] * (a[2] - b[2])) ** 2,
  );

const palenessOf = ([light, red, blue]: Tone): number =>
  paleness(light, red, blue, { redGreen: 0, blueGreen: 0 });

const medianTone = (tones: readonly Tone[]): Tone => [
  medianOf(tones.map((tone) => tone[0])),
  medianOf(tones.map((tone) => tone[1])),
  medianOf(tones.map((tone) => tone[2])),
];

const BESIDE = [-0.008, -0.004, 0, 0.004, 0.008];

/** Tones from side to side, each the mean of a few places along. */
const lineAcross = (field: ToneAxes, square: Homography, t: number): Tone[] | null => {
  const line: Tone[] = [];
  for (let k = 0; k < PLACES; k++) {
    let light = 0;
    let red = 0;
    let blue = 0;
    for (let i = 0; i < BESIDE.length; i++) {
      const at = pixelAt(field, project(square, t + BESIDE[i], (k + 0.5) / PLACES));
      if (at < 0) return null;
      light += field.light[at];
      red += field.redGreen[at];
      blue += field.blueGreen[at];
    }
    line.push([light / BESIDE.length, red / BESIDE.length, blue / BESIDE.length]);
  }
  return line;
};
