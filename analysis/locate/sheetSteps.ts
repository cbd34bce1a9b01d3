import {
  type Cutting,
  cutting,
  type Profile,
  type StepPrior,
  type StepSplit,
  splitSteps,
} from './changePoints.ts';
import type { Doubt } from './confidence.ts';
import { flatness } from './flatness.ts';
import { type Homography, patchOf, project, unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { sideLengths } from './quadGeometry.ts';
import { medianOf, paleness, pixelAt } from './sampleTone.ts';
import { dyedPart } from './sheetDyed.ts';
import type { ToneAxes } from './toneField.ts';

/** Steps of the cloth on the sheet, in rising exposure, in pixels of the view; and what speaks against them. */
export interface SheetSteps {
  readonly steps: readonly Quad[];
  readonly doubts: readonly Doubt[];
}

const SAMPLES = 240;
const WIDTH_SPREAD = 0.1;
/** On axes where paper is 0. */
const NEUTRAL = { redGreen: 0, blueGreen: 0 };
const SHARES = [1, 0.5, 0.35] as const;
/** Another answer that costs so much more is out of the question, nats: another way round, place or number of steps. */
const MOST_GAP = { direction: 20, place: 9, count: 3 } as const;
/** How little a place at the cloth's end, no further in than its bare long sides are wide, looks like a step's. */
const RIM_STRANGE = 0.8;
/** Dye is uneven over about this length. */
const CORRELATED_PX = 20;

/**
 * Cuts one cloth into its steps. `cloth`: its outline, as it stands out from the paper; `hasBase`: the first step had no
 * exposure.
 */
export const cutCloth = (
  field: ToneAxes,
  cloth: Quad,
  count: number,
  hasBase: boolean,
): SheetSteps | null => {
  const along = alongSteps(field, cloth, count);
  const quad = dyedPart(field, along);
  const square = unitSquareTo(quad);
  if (!square) return null;
  const profile = profileAlong(field, square, quad, rimOf(along, quad));
  if (!profile) return null;
  const cut = cutting(profile);
  const common = SAMPLES / count;
  const prior: StepPrior = {
    count,
    widthSpread: WIDTH_SPREAD,
    widths: widthsFrom(0.45 * common, 1.02 * common),
    outsideCost: 4,
    reversalCost: 4,
    strangeCost: 6,
  };
  const bare = hasBase ? LEAST_BASE * common : 0;
  const both =
    splitBothWays(cut, prior, bareEnds(profile, bare)) ?? splitBothWays(cut, prior, bareEnds(profile, 0));
  if (!both) return null;
  const { down, up, best, darker } = both;
  const ends = both.ends(darker);
  const other = darker === 1 ? up : down;
  const quads = Array.from({ length: count }, (_, k) =>
    patchOf(square, best.borders[k] / SAMPLES, best.borders[k + 1] / SAMPLES, 0, 1),
  );
  if (darker === -1) quads.reverse();
  const gapTo = (split: StepSplit | undefined, most: number): number =>
    split ? split.cost - best.cost : most;
  const withCount = (n: number): number =>
    n < 1
      ? MOST_GAP.count
      : gapTo(
          splitSteps(
            cut,
            { ...prior, count: n, widths: widthsFrom((0.45 * SAMPLES) / n, (1.02 * SAMPLES) / n) },
            darker,
            ends,
            best.cost + MOST_GAP.count,
          ),
          MOST_GAP.count,
        );
  const [fewer, more] = [withCount(count - 1), withCount(count + 1)];
  const reach = 0.4 * best.width;
  const [first, last] = [best.borders[0], best.borders[count]];
  const elsewhere = Math.min(
    gapTo(
      splitSteps(
        cut,
        prior,
        darker,
        { ...ends, first: (b) => ends.first(b) && Math.abs(b - first) > reach },
        best.cost + MOST_GAP.place,
      ),
      MOST_GAP.place,
    ),
    gapTo(
      splitSteps(
        cut,
        prior,
        darker,
        { ...ends, last: (b) => ends.last(b) && Math.abs(b - last) > reach },
        best.cost + MOST_GAP.place,
      ),
      MOST_GAP.place,
    ),
  );
  return {
    steps: quads,
    doubts: [
      {
        weight: 3 * Math.exp(-gapTo(other, MOST_GAP.direction) / 2.5),
        phrase: 'the steps could also run the other way',
        part: 'direction',
      },
      { weight: 1.2 * Math.exp(-elsewhere / 1.2), phrase: 'the strip could begin or end a step further on' },
      {
        weight: 1.1 / (1 + Math.exp(fewer / 0.3)),
        phrase: 'the strip seems to have fewer steps than described',
        part: 'count',
        otherCount: 'fewer',
      },
      {
        weight: 1.1 / (1 + Math.exp(more / 0.3)),
        phrase: 'the strip seems to have more steps than described',
        part: 'count',
        otherCount: 'more',
      },
      { weight: 5 * Math.max(0, 0.2 - rangeOf(profile, best)), phrase: 'the steps hardly differ' },
      {
        weight: 1.6 * Math.max(0, 0.65 - seenBorders(profile, best)),
        phrase: 'few borders between steps can be seen',
      },
    ],
  };
};

interface Ends {
  readonly first: (border: number) => boolean;
  readonly last: (border: number) => boolean;
}

/** The best splits with steps that get darker along the cloth, and lighter. */
const splitBothWays = (cut: Cutting, prior: StepPrior, ends: (darker: 1 | -1) => Ends) => {
  const down = splitSteps(cut, prior, 1, ends(1));
  const up = splitSteps(cut, prior, -1, ends(-1), down && down.cost + MOST_GAP.direction);
  const best = !up || (down && down.cost <= up.cost) ? down : up;
  const darker: 1 | -1 = best === down ? 1 : -1;
  return best && { down, up, best, darker, ends };
};

/** At the cloth's ends its shadow and its frayed edge are no dye. */
const EDGE_SAMPLES = 12;
/** Of an unexposed first step at least so much lies before the dye, in widths of a cloth all steps. */
const LEAST_BASE = 0.35;

/**
 * Beyond the steps lies nothing but bare cloth: where may the first step begin, and where may the last one end? At the
 * pale end at least `bare` samples before the dye.
 */
const bareEnds = ({ paleness: pale }: Profile, bare: number) => {
  const sorted = [...pale].sort((a, b) => a - b);
  const [dark, light] = [sorted[Math.floor(0.05 * SAMPLES)], sorted[Math.floor(0.95 * SAMPLES)]];
  const bar = light - 0.04 - 0.12 * (light - dark);
  const isDyed = (value: number) => value < bar;
  const from = pale.findIndex((value, i) => i >= EDGE_SAMPLES && isDyed(value));
  const to = pale.findLastIndex((value, i) => i < SAMPLES - EDGE_SAMPLES && isDyed(value));
  const [dyeFrom, dyeTo] = [from < 0 ? SAMPLES : from, to < 0 ? 0 : to + 1];
  return (darker: 1 | -1): Ends => {
    const slack = (isPaleEnd: boolean): number => (isPaleEnd && bare > 0 ? -bare : EDGE_SAMPLES);
    return {
      first: (border) => border <= dyeFrom + slack(darker === 1),
      last: (border) => border >= dyeTo - slack(darker === -1),
    };
  };
};

const widthsFrom = (from: number, to: number): number[] => {
  const widths: number[] = [];
  for (let w = from; w <= to; w *= 1.05) widths.push(w);
  return widths;
};

/** So many steps side by side are hardly shorter than wide. */
const MANY = 5;

/** The outline turned so that its first side runs along the steps: the way in which the tone changes most. */
const alongSteps = (field: ToneAxes, cloth: Quad, count: number): Quad => {
  const turned: Quad = [cloth[1], cloth[2], cloth[3], cloth[0]];
  const [a, b] = sideLengths(cloth);
  const plainly = count >= MANY ? 1.5 : 2.2;
  if (a > plainly * b) return cloth;
  if (b > plainly * a) return turned;
  return changeAlong(field, cloth) >= changeAlong(field, turned) ? cloth : turned;
};

/** Variance along the first side of what is the middle of each line across. */
const changeAlong = (field: ToneAxes, quad: Quad): number => {
  const square = unitSquareTo(quad);
  if (!square) return 0;
  const lines = Array.from({ length: 30 }, (_, i) =>
    toneAcross(field, square, 0.12 + (0.76 * (i + 0.5)) / 30, LANES),
  ).filter((tone) => tone !== null);
  let sum = 0;
  SHARES.forEach((share, p) => {
    const mean = lines.reduce((s, tone) => s + tone[p], 0) / lines.length;
    sum += share * share * lines.reduce((s, tone) => s + (tone[p] - mean) ** 2, 0);
  });
  return sum / lines.length;
};

const LANES = Array.from({ length: 25 }, (_, i) => 0.08 + (0.84 * i) / 24);

/** Mean of the middle half across, on each axis; null where the photo ends. */
const toneAcross = (
  field: ToneAxes,
  square: Homography,
  t: number,
  lanes: readonly number[],
): readonly [number, number, number, spread: number] | null => {
  const n = lanes.length;
  const light = new Float64Array(n);
  const red = new Float64Array(n);
  const blue = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const at = pixelAt(field, project(square, t, lanes[k]));
    if (at < 0) return null;
    light[k] = field.light[at];
    red[k] = field.redGreen[at];
    blue[k] = field.blueGreen[at];
  }
  light.sort();
  return [middleMean(light), middleMean(red.sort()), middleMean(blue.sort()), light[n - 3] - light[2]];
};

/** Mean of the middle half of what is sorted. */
const middleMean = (sorted: Float64Array): number => {
  const cut = sorted.length >> 2;
  let sum = 0;
  for (let k = cut; k < sorted.length - cut; k++) sum += sorted[k];
  return sum / (sorted.length - 2 * cut);
};

/** Width of the bare cloth along the steps' long sides, px: likely there is as much of it at the ends. */
const rimOf = (cloth: Quad, dyed: Quad): number => {
  const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const upper = apart(middle(cloth[0], cloth[1]), middle(dyed[0], dyed[1]));
  const lower = apart(middle(cloth[3], cloth[2]), middle(dyed[3], dyed[2]));
  return Math.min(upper, lower);
};

const profileAlong = (field: ToneAxes, square: Homography, quad: Quad, rimPx: number): Profile | null => {
  const rows = Array.from({ length: SAMPLES }, (_, i) =>
    toneAcross(field, square, (i + 0.5) / SAMPLES, LANES),
  );
  if (rows.some((row) => row === null)) return null;
  const tones = rows as NonNullable<(typeof rows)[number]>[];
  const planes = [0, 1, 2].map((p) => Float64Array.from(tones, (tone) => tone[p]));
  const noise = planes.map((plane, p) => Math.hypot(noiseOf(plane), [0.015, 0.015, 0.02][p]));
  const [length] = sideLengths(quad);
  return {
    planes,
    paleness: Float64Array.from(tones, ([light, red, blue]) => paleness(light, red, blue, NEUTRAL)),
    weights: flatness(planes, noise),
    // What is as uneven across as an edge that runs slantwise, or is just like paper, is hardly a step.
    strange: Float64Array.from(tones, ([light, red, blue, spread], i) => {
      if (Math.min(i, SAMPLES - 1 - i) < (rimPx * SAMPLES) / length - 1) return RIM_STRANGE;
      const uneven = Math.min(1, Math.max(0, spread - 0.14) / 0.25);
      const far = Math.hypot(light, SHARES[1] * red, SHARES[2] * blue);
      return Math.min(1, uneven + 0.5 * Math.exp(-((far / 0.03) ** 2)));
    }),
    noise,
    correlated: Math.max(4, (CORRELATED_PX * SAMPLES) / length),
    cloth: new Float64Array(SAMPLES).fill(1),
    maxSlope: 0.25 / SAMPLES,
  };
};

/** Robust noise from second differences at a lag of three samples. */
const noiseOf = (plane: Float64Array): number => {
  const bends: number[] = [];
  for (let i = 3; i + 3 < plane.length; i++) bends.push(Math.abs(plane[i - 3] - 2 * plane[i] + plane[i + 3]));
  return (1.4826 * medianOf(bends)) / Math.sqrt(6);
};

/** Share of the borders between steps at which the tone changes by more than noise. */
const seenBorders = ({ planes, noise }: Profile, { borders }: StepSplit): number => {
  const count = borders.length - 1;
  if (count < 2) return 1;
  const levels = planes.map((plane) =>
    Array.from({ length: count }, (_, k) => {
      const inset = Math.floor(0.2 * (borders[k + 1] - borders[k]));
      return medianOf([
        ...plane.subarray(borders[k] + inset, Math.max(borders[k] + inset + 1, borders[k + 1] - inset)),
      ]);
    }),
  );
  let seen = 0;
  for (let k = 1; k < count; k++)
    if (Math.hypot(...levels.map((level, p) => (level[k] - level[k - 1]) / noise[p])) > 2) seen++;
  return seen / (count - 1);
};

/** Change of tone from the first to the last step. */
const rangeOf = ({ planes }: Profile, { borders }: StepSplit): number => {
  const last = borders.length - 1;
  return Math.hypot(
    ...planes.map((plane, p) => {
      const middle = (from: number, to: number) =>
        medianOf([...plane.subarray(from, Math.max(to, from + 1))]);
      return SHARES[p] * (middle(borders[0], borders[1]) - middle(borders[last - 1], borders[last]));
    }),
  );
};
