import {
  type Cutting,
  cutting,
  type Profile,
  type StepPrior,
  type StepSplit,
  splitSteps,
} from './changePoints.ts';
import { type Homography, patchOf, project, unitSquareTo } from './homography.ts';
import type { Quad } from './marks.ts';
import { sideLengths } from './quadGeometry.ts';
import { medianOf, paleness, pixelAt, type Tint } from './sampleTone.ts';
import type { StripFrame } from './stripFrames.ts';
import { tightenFrame } from './tightenFrame.ts';
import type { ToneField } from './toneField.ts';

/** A strip found in the photo, steps from light to dark. */
export interface StripFit {
  readonly steps: readonly Quad[];
  /** How much worse the best answer is that puts the strip's light or dark end elsewhere (nats); costly, so on call. */
  readonly endGap: () => number;
  /** How much worse one step fewer, and one more, would explain what is seen (nats, may be negative); on call. */
  readonly countGaps: () => readonly [fewer: number, more: number];
  /** How much worse the opposite direction is (nats). */
  readonly directionGap: number;
  /** Borders between steps that can be seen, of count - 1. */
  readonly visibleBorders: number;
  /** Share of the steps' length that is set off from what lies beside it, 0..1. */
  readonly bounded: number;
  /** Change of tone from the lightest to the darkest step, ln. */
  readonly toneRange: number;
  /** Standard deviation of ln width over the steps. */
  readonly widthSpread: number;
}

const widthSpread = 0.13;

/** How much a band looks like a strip at first glance: even across, set off from both flanks, changing along. */
export function promiseOf(field: ToneField, frame: StripFrame): number {
  const square = unitSquareTo(frame.quad);
  const grid = square
    ? sampleAlong(field, square, 0.01, 0.99, 1 / 32, { redGreen: 0, blueGreen: 0 })
    : undefined;
  if (!grid) return 0;
  const [along, across] = sideLengths(frame.quad);
  const bounded = boundedShare(grid, 0, grid.flank.length);
  const [light, red, blue] = grid.profile.planes.map((plane) => {
    const sorted = [...plane].sort((a, b) => a - b);
    return sorted[Math.floor(0.93 * sorted.length)] - sorted[Math.floor(0.07 * sorted.length)];
  });
  const range = Math.hypot(light, 0.5 * red, 0.35 * blue);
  return (
    (along * across) ** 0.45 * bounded ** 2 * Math.min(0.5, range + 0.03) * Math.min(3, frame.changes + 1)
  );
}

/** Cuts a band into the strip's steps; looks beyond the band's ends for steps too pale to be seen as areas. */
export function fitSteps(
  field: ToneField,
  frame: StripFrame,
  count: number,
  neutral: Tint,
): StripFit | undefined {
  const quad = tightenFrame(field, frame.quad);
  const square = unitSquareTo(quad);
  if (!square) return undefined;
  const [length] = sideLengths(quad);
  const longest = Math.max(...frame.pieces);
  const beyond = Math.min(3, Math.max(0.35, ((count - frame.pieces.length + 0.6) * longest) / length));
  const samples = Math.round(Math.min(length / 1.5, Math.max(50, 260 / (1 + 2 * beyond))));
  const grid = sampleAlong(field, square, -beyond, 1 + beyond, 1 / samples, neutral);
  if (!grid || grid.profile.planes[0].length < 3 * count) return undefined;
  const cut = cutting(grid.profile);
  const perUnit = samples;
  const prior: StepPrior = {
    count,
    widthSpread,
    widths: logSteps((0.75 * perUnit) / count, (1.15 * perUnit * longest) / length),
    outsideCost: 4,
    reversalCost: 4,
    strangeCost: 6,
  };
  const down = splitSteps(cut, prior, 1);
  const up = splitSteps(cut, prior, -1);
  const best = !up || (down && down.cost <= up.cost) ? down : up;
  if (!best) return undefined;
  const darker: 1 | -1 = best === down ? 1 : -1;
  const other = darker === 1 ? up : down;
  const t = best.borders.map((b) => grid.start + b / samples);
  const quads: Quad[] = [];
  for (let k = 0; k < count; k++) quads.push(patchOf(square, t[k], t[k + 1], 0, 1));
  if (darker === -1) quads.reverse();
  return {
    steps: quads,
    endGap: () => endGap(cut, prior, darker, best),
    countGaps: () => countGaps(cut, prior, darker, best),
    directionGap: other ? other.cost - best.cost : 50,
    bounded: boundedShare(grid, best.borders[0], best.borders[count]),
    ...described(grid.profile, best),
  };
}

/** Share of a stretch where both flanks differ from the strip and the strip is even across. */
function boundedShare(grid: Along, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) {
    sum += (1 - Math.exp(-((grid.flank[i] / 0.05) ** 2))) * (1 - Math.min(1, grid.uneven[i]));
  }
  return sum / Math.max(1, to - from);
}

interface Along {
  readonly profile: Profile;
  /** Position of the first sample's start along the band, 0..1 within it. */
  readonly start: number;
  /** Per sample: distance of the tone to what lies just beside it, the nearer of both sides, ln. */
  readonly flank: Float64Array;
  /** Per sample: how uneven the band is across, 0..1. */
  readonly uneven: Float64Array;
}

/** One place along the band: its tone, how much it varies across, and how far the flanks are from it. */
interface Cross {
  readonly tone: readonly number[];
  readonly spread: number;
  readonly flank: number;
  /** The same with what lies further out taken in as well. */
  readonly farFlank: number;
}

/** Reads the band from `t0` to `t1` in units of its length, as far as the photo goes. */
function sampleAlong(
  field: ToneField,
  square: Homography,
  t0: number,
  t1: number,
  step: number,
  neutral: Tint,
): Along | undefined {
  let start = 0.5;
  const rows: Cross[] = [];
  for (let t = 0.5 - step / 2; t > t0; t -= step) {
    const row = readAcross(field, square, t);
    if (!row) break;
    rows.unshift(row);
    start = t - step / 2;
  }
  for (let t = 0.5 + step / 2; t < t1; t += step) {
    const row = readAcross(field, square, t);
    if (!row) break;
    rows.push(row);
  }
  if (rows.length < 8) return undefined;
  const planes = [0, 1, 2].map((p) => Float64Array.from(rows, (row) => row.tone[p]));
  const noise = planes.map((plane, p) => Math.hypot(noiseOf(plane), [0.008, 0.012, 0.016][p]));
  const pxPerSample = sideLengths(patchOf(square, 0, 1, 0, 1))[0] * step;
  const flank = Float64Array.from(rows, (row) => row.flank);
  const uneven = Float64Array.from(rows, (row) => Math.min(1, Math.max(0, row.spread - 0.14) / 0.25));
  return {
    start,
    flank,
    uneven,
    profile: {
      planes,
      paleness: Float64Array.from(rows, ({ tone }) => paleness(tone[0], tone[1], tone[2], neutral)),
      weights: flatness(planes, noise),
      strange: uneven.map((share, i) => Math.min(1, share + unbounded(rows[i]))),
      noise,
      correlated: 4,
      maxSlope: (0.4 / Math.max(field.widthPx, field.heightPx)) * pxPerSample,
    },
  };
}

/** Bare cloth may lie in a margin of its own; what is like all that lies beside it, near and far, is table. */
function unbounded({ flank, farFlank }: Cross): number {
  return 0.15 * Math.exp(-((flank / 0.05) ** 2)) + 0.35 * Math.exp(-((farFlank / 0.04) ** 2));
}

/** 1 where the profile runs level, near 0 on ramps of blur and penumbra, and on lines and threads across the strip. */
function flatness(planes: readonly Float64Array[], noise: readonly number[]): Float64Array {
  const length = planes[0].length;
  return Float64Array.from({ length }, (_, i) => {
    let square = 0;
    planes.forEach((plane, p) => {
      const before = plane[i] - plane[Math.max(0, i - 2)];
      const after = plane[Math.min(length - 1, i + 2)] - plane[i];
      square += (before ** 2 + after ** 2) / (3 * noise[p]) ** 2;
    });
    return Math.max(0.03, 1 / (1 + square));
  });
}

const lanes = Array.from({ length: 25 }, (_, i) => 0.05 + (0.9 * i) / 24);
const nearFlanks = [
  [-0.22, -0.17, -0.12, -0.07],
  [1.07, 1.12, 1.17, 1.22],
];
/** What the photo does not show is taken to differ. */
const outsidePhoto = 0.3;
const farFlanks = [
  [-0.56, -0.5, -0.44, -0.38],
  [1.38, 1.44, 1.5, 1.56],
];

function readAcross(field: ToneField, square: Homography, t: number): Cross | undefined {
  if (square[6] * t + square[7] * 0.5 + 1 < 0.2) return undefined;
  const inside = readLanes(field, square, t, lanes);
  if (inside.length < lanes.length) return undefined;
  const tone = [0, 1, 2].map((p) => middleMean(inside.map((at) => planeOf(field, p)[at])));
  const sorted = inside.map((at) => field.light[at]).sort((a, b) => a - b);
  const reds = inside.map((at) => field.redGreen[at]).sort((a, b) => a - b);
  const few = 2;
  const spread = Math.max(
    sorted[sorted.length - 1 - few] - sorted[few],
    0.5 * (reds[reds.length - 1 - few] - reds[few]),
  );
  const away = (flanks: readonly (readonly number[])[]) =>
    flanks.map((side) => {
      const beside = readLanes(field, square, t, side);
      if (beside.length < 2) return undefined;
      return Math.hypot(
        ...[1, 0.5, 0.35].map(
          (weight, p) => weight * (middleMean(beside.map((at) => planeOf(field, p)[at])) - tone[p]),
        ),
      );
    });
  const near = away(nearFlanks).map((far) => far ?? outsidePhoto);
  const further = away(farFlanks).map((far, side) => Math.max(far ?? 0, near[side]));
  return { tone, spread, flank: Math.min(...near), farFlank: Math.min(...further) };
}

function planeOf(field: ToneField, p: number): Float32Array {
  return p === 0 ? field.light : p === 1 ? field.redGreen : field.blueGreen;
}

function readLanes(field: ToneField, square: Homography, t: number, at: readonly number[]): number[] {
  return at.map((v) => pixelAt(field, project(square, t, v))).filter((pixel) => pixel >= 0);
}

/** Mean of the middle half. */
function middleMean(values: number[]): number {
  values.sort((a, b) => a - b);
  const cut = values.length >> 2;
  let sum = 0;
  for (let i = cut; i < values.length - cut; i++) sum += values[i];
  return sum / (values.length - 2 * cut);
}

/** Robust noise of a plane from second differences at a lag of three samples. */
function noiseOf(plane: Float64Array): number {
  const lag = 3;
  const bends: number[] = [];
  for (let i = lag; i + lag < plane.length; i++)
    bends.push(Math.abs(plane[i - lag] - 2 * plane[i] + plane[i + lag]));
  return bends.length === 0 ? 0.01 : (1.4826 * medianOf(bends)) / Math.sqrt(6);
}

function logSteps(from: number, to: number): number[] {
  const result: number[] = [];
  for (let w = from; w <= Math.max(from, to) * 1.001; w *= 1.07) result.push(w);
  return result;
}

function endGap(cut: Cutting, prior: StepPrior, darker: 1 | -1, best: StepSplit): number {
  const reach = 0.4 * best.width;
  const [first, last] = [best.borders[0], best.borders[best.borders.length - 1]];
  const elsewhere = [
    splitSteps(cut, prior, darker, { first: (b) => Math.abs(b - first) > reach }),
    splitSteps(cut, prior, darker, { last: (b) => Math.abs(b - last) > reach }),
  ];
  return Math.min(50, ...elsewhere.map((split) => (split ? split.cost - best.cost : 50)));
}

function countGaps(cut: Cutting, prior: StepPrior, darker: 1 | -1, best: StepSplit): [number, number] {
  const gap = (count: number) => {
    const split = count > 0 ? splitSteps(cut, { ...prior, count }, darker) : undefined;
    return split ? split.cost - best.cost : 50;
  };
  return [gap(prior.count - 1), gap(prior.count + 1)];
}

function described(profile: Profile, split: StepSplit) {
  const count = split.borders.length - 1;
  const levels = profile.planes.map((plane) => {
    const values: number[] = [];
    for (let k = 0; k < count; k++) {
      const [a, b] = [split.borders[k], split.borders[k + 1]];
      const inner = Math.floor((b - a) * 0.2);
      values.push(medianOf([...plane.subarray(a + inner, Math.max(a + inner + 1, b - inner))]));
    }
    return values;
  });
  let visibleBorders = 0;
  const seen: boolean[] = [true];
  for (let k = 1; k < count; k++) {
    const change = Math.hypot(
      ...levels.map((plane, p) => (plane[k] - plane[k - 1]) / Math.max(profile.noise[p], 0.012)),
    );
    const visible = change > 2;
    if (visible) visibleBorders++;
    seen.push(visible);
  }
  seen.push(true);
  const widths = split.borders.slice(1).map((border, k) => Math.log(border - split.borders[k]));
  const mean = widths.reduce((s, w) => s + w, 0) / count;
  const end = count - 1;
  return {
    visibleBorders,
    toneRange: Math.hypot(
      levels[0][0] - levels[0][end],
      0.5 * (levels[1][0] - levels[1][end]),
      0.35 * (levels[2][0] - levels[2][end]),
    ),
    widthSpread: count < 2 ? 0 : Math.sqrt(widths.reduce((s, w) => s + (w - mean) ** 2, 0) / (count - 1)),
  };
}
