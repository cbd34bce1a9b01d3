import type { Profile } from './changePoints.ts';
import { flatness } from './flatness.ts';
import { type Homography, patchOf, project } from './homography.ts';
import { sideLengths } from './quadGeometry.ts';
import { medianOf, paleness, pixelAt, type Tint } from './sampleTone.ts';
import type { ToneField } from './toneField.ts';

/** Share of a stretch where both flanks differ from the strip and the strip is even across. */
export function boundedShare(grid: Along, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) {
    sum += (1 - Math.exp(-((grid.flank[i] / 0.05) ** 2))) * (1 - Math.min(1, grid.uneven[i]));
  }
  return sum / Math.max(1, to - from);
}

/** A band read along its length. */
export interface Along {
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
export function sampleAlong(
  field: ToneField,
  square: Homography,
  t0: number,
  t1: number,
  step: number,
  neutral: Tint,
): Along | undefined {
  let start = 0.5;
  const rows: Cross[] = [];
  const [lengthPx, widthPx] = sideLengths(patchOf(square, 0, 1, 0, 1));
  const mostFall = mostFallAcross / Math.max(field.widthPx, field.heightPx);
  const fallAcross = mostFall * widthPx;
  for (let t = 0.5 - step / 2; t > t0; t -= step) {
    const row = readAcross(field, square, t, fallAcross);
    if (!row) break;
    rows.unshift(row);
    start = t - step / 2;
  }
  for (let t = 0.5 + step / 2; t < t1; t += step) {
    const row = readAcross(field, square, t, fallAcross);
    if (!row) break;
    rows.push(row);
  }
  if (rows.length < 8) return undefined;
  const planes = [0, 1, 2].map((p) => Float64Array.from(rows, (row) => row.tone[p]));
  // The table's noise is not the cloth's: a dark felt flickers more, on log axes, than anything on the strip.
  const [from, to] = [0, 1].map((t) => Math.min(rows.length, Math.max(0, Math.round((t - start) / step))));
  const noise = planes.map((plane, p) =>
    Math.hypot(noiseOf(plane.subarray(from, to)), [0.008, 0.012, 0.016][p]),
  );
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
      cloth: Float64Array.from(
        rows,
        (row, i) => (1 - Math.exp(-((row.farFlank / 0.06) ** 2))) * (1 - uneven[i]),
      ),
      noise,
      correlated: 4,
      maxSlope: mostFall * lengthPx * step,
    },
  };
}

/** Bare cloth may lie in a margin of its own; what is like all that lies beside it, near and far, is table. */
function unbounded({ flank, farFlank }: Cross): number {
  return 0.15 * Math.exp(-((flank / 0.05) ** 2)) + 0.85 * Math.exp(-((farFlank / 0.04) ** 2));
}

/** How much the light may fall from one end of the photo to the other, ln. */
const mostFallAcross = 0.4;
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

/** `fall`: how much falling light may change the tone over the band's width, ln. */
function readAcross(field: ToneField, square: Homography, t: number, fall: number): Cross | undefined {
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
  const away = (flanks: readonly (readonly number[])[]) => {
    const changes = flanks.map((side) => {
      const beside = readLanes(field, square, t, side);
      if (beside.length < 2) return undefined;
      return [0, 1, 2].map((p) => middleMean(beside.map((at) => planeOf(field, p)[at])) - tone[p]);
    });
    // What rises on one side as it falls on the other, no further than light does, is no edge.
    const [upper, lower] = changes.map((change) => change?.[0]);
    const most = fall * (0.5 - middleOf(flanks[0]));
    const slope = Math.min(most, Math.max(-most, slopeOf(upper, lower)));
    return changes.map(
      (change, side) =>
        change && Math.hypot(change[0] + (side === 0 ? slope : -slope), 0.5 * change[1], 0.35 * change[2]),
    );
  };
  const near = away(nearFlanks).map((far) => far ?? outsidePhoto);
  const further = away(farFlanks).map((far, side) => Math.max(far ?? 0, near[side]));
  return { tone, spread, flank: Math.min(...near), farFlank: Math.min(...further) };
}

/** Half the change of light from the upper flank to the lower; where the photo shows but one, as that one has it. */
function slopeOf(upper: number | undefined, lower: number | undefined): number {
  if (upper !== undefined && lower !== undefined) return (lower - upper) / 2;
  return lower ?? (upper !== undefined ? -upper : 0);
}

function middleOf(places: readonly number[]): number {
  return (places[0] + places[places.length - 1]) / 2;
}

function planeOf(field: ToneField, p: number): Float32Array {
  return p === 0 ? field.light : p === 1 ? field.redGreen : field.blueGreen;
}

function readLanes(field: ToneField, square: Homography, t: number, at: readonly number[]): number[] {
  const pixels: number[] = [];
  for (const v of at) {
    const pixel = pixelAt(field, project(square, t, v));
    if (pixel >= 0) pixels.push(pixel);
  }
  return pixels;
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
