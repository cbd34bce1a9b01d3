import type { CurveShape, TimerError } from './curve.ts';
import { shapeSlopePerStop } from './landmarks.ts';

/** Relative variance of a step's time: a uniform timer error and the handling of the cover. */
function relativeTimeVariance(seconds: number, timer: TimerError): number {
  return (timer.seconds / seconds) ** 2 / 3 + timer.share ** 2;
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
    const slope = seconds[i] > 0 ? shapeSlopePerStop(shape, seconds[i]) / Math.LN2 : 0;
    const timing = seconds[i] > 0 ? slope * slope * relativeTimeVariance(seconds[i], timer) : 0;
    return row.map((value, j) => (i === j ? value + timing + extraScatterL ** 2 : value));
  });
}
