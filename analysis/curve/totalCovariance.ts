import type { CurveShape, TimerError } from './curve.ts';
import { shapeSlopePerStop } from './landmarks.ts';

/** Relative variance of a step's time: a uniform timer error and the handling of the cover. */
function relativeTimeVariance(seconds: number, timer: TimerError): number {
  return (timer.seconds / seconds) ** 2 / 3 + timer.share ** 2;
}

/** What the error of a step's time does to its L* on this curve; 0 for the base. */
export function timingVarianceL(shape: CurveShape, seconds: number, timer: TimerError): number {
  if (!(seconds > 0)) return 0;
  const slope = shapeSlopePerStop(shape, seconds) / Math.LN2;
  return slope * slope * relativeTimeVariance(seconds, timer);
}

/**
 * Covariance of L* against the curve at the steps' stated times: as read, and what an error of the time does on this
 * curve's slope, and scatter of the steps themselves.
 */
export function totalCovariance(
  covarianceL: readonly (readonly number[])[],
  seconds: readonly number[],
  shape: CurveShape,
  timer: TimerError,
  extraScatterL: number,
): readonly (readonly number[])[] {
  return covarianceL.map((row, i) => {
    const timing = timingVarianceL(shape, seconds[i], timer);
    return row.map((value, j) => (i === j ? value + timing + extraScatterL ** 2 : value));
  });
}
