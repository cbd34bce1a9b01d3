import type { CurveShape } from './curve.ts';
import { shapeBase, shapeDeepest, shapeExposure, shapeLightness } from './shape.ts';

/** Depth short of the deepest, in L*, that still counts as full: one just noticeable step. */
export const fullWithinL = 1;
/** Share of the steepest slope that still counts as the straight part. */
const straightShare = 0.75;
const gridPoints = 240;

export interface Landmarks {
  readonly straight: { readonly fromSeconds: number; readonly toSeconds: number } | null;
  readonly exposureScaleStops: number | null;
  readonly contrastLPerStop: number | null;
  readonly secondsTo90: number | null;
  readonly secondsToFull: number | null;
}

/** Seconds to a depth in percent of the L* distance; null where the curve doesn't get there. */
export function shapeSecondsToDepth(shape: CurveShape, percent: number): number | null {
  const base = shapeBase(shape);
  return shapeExposure(shape, base - (percent / 100) * (base - shapeDeepest(shape)));
}

/** L* darker per stop at this exposure. */
export function shapeSlopePerStop(shape: CurveShape, seconds: number): number {
  const half = 2 ** 0.005;
  return (shapeLightness(shape, seconds / half) - shapeLightness(shape, seconds * half)) / 0.01;
}

/**
 * Where a curve begins, runs straight and levels off. Times beyond `latestSeconds` are null: no strip vouches for them.
 */
export function landmarksOf(shape: CurveShape, latestSeconds: number): Landmarks {
  const range = shapeBase(shape) - shapeDeepest(shape);
  const within = (seconds: number | null) => (seconds !== null && seconds <= latestSeconds ? seconds : null);
  const at = (percent: number) => {
    const seconds = shapeSecondsToDepth(shape, percent);
    return seconds !== null && seconds > 0 ? seconds : null;
  };
  const [at10, at50, at90] = [at(10), at(50), at(90)];
  return {
    straight: straightPart(shape),
    exposureScaleStops: at10 !== null && at90 !== null ? Math.log2(at90 / at10) : null,
    contrastLPerStop: at50 !== null ? shapeSlopePerStop(shape, at50) : null,
    secondsTo90: within(at90),
    secondsToFull:
      range > fullWithinL ? within(shapeExposure(shape, shapeDeepest(shape) + fullWithinL)) : null,
  };
}

function straightPart(shape: CurveShape): Landmarks['straight'] {
  const from = shapeSecondsToDepth(shape, 1);
  const to = shapeSecondsToDepth(shape, 99);
  if (from === null || to === null || !(from > 0) || !(to > from)) return null;
  const ratio = (to / from) ** (1 / gridPoints);
  const times = Array.from({ length: gridPoints + 1 }, (_, i) => from * ratio ** i);
  const slopes = times.map((seconds) => shapeSlopePerStop(shape, seconds));
  const enough = straightShare * Math.max(...slopes);
  const first = slopes.findIndex((slope) => slope >= enough);
  const last = slopes.findLastIndex((slope) => slope >= enough);
  return { fromSeconds: times[first], toSeconds: times[last] };
}
