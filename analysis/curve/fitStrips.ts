import type { CurveOutcome, CurvePoint } from './curve.ts';
import { type FitOptions, fitCurve } from './fitCurve.ts';

/** The steps of one strip as read from its own photo. */
export interface StripPoints {
  readonly points: readonly CurvePoint[];
  readonly covarianceL: readonly (readonly number[])[];
}

/**
 * Which curve do several strips of one dye, cloth and light lie on together? The errors of each strip hang together as
 * its covariance says; those of different strips, read from different photos, are independent. For a first strip and
 * the next one made after its advice.
 */
export function fitStrips(
  strips: readonly StripPoints[],
  options: Pick<FitOptions, 'timer'> = {},
): CurveOutcome {
  const points = strips.flatMap((strip) => strip.points);
  const covarianceL = strips.flatMap((strip, s) => {
    const before = strips.slice(0, s).reduce((sum, other) => sum + other.points.length, 0);
    return strip.covarianceL.map((row) => {
      const padded = new Array<number>(points.length).fill(0);
      row.forEach((value, j) => {
        padded[before + j] = value;
      });
      return padded;
    });
  });
  return fitCurve(points, { ...options, covarianceL });
}
