import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

export interface Fading {
  readonly stopsPer100Hours: number;
  /** 90 % interval. */
  readonly low: number;
  readonly high: number;
  /** True where the interval leaves no change out. */
  readonly changing: boolean;
}

/** Fewest control scraps that a rate is drawn from. */
const FEWEST = 4;

/**
 * How fast does the lamp fade? Straight line through the control scrap's shift against lamp hours; negative means that
 * the light grows weaker. Holds where the fading is even, which it isn't in the first 100 h of new tubes.
 *
 * @param points lamp hours and shift in stops, four or more, not all at the same hours.
 * @returns stops per 100 h with a 90 % interval from the scatter about the line; null with too little to draw a line.
 * @throws AnalysisError `comparison-invalid` where a number is not finite.
 * @see [domain-4.3], [domain-6.13]
 * @example lampFading([{ hours: 0, shiftStops: 0 }]) // null
 */
export function lampFading(
  points: readonly { readonly hours: number; readonly shiftStops: number }[],
): Fading | null {
  if (!points.every((point) => Number.isFinite(point.hours) && Number.isFinite(point.shiftStops))) {
    throw new AnalysisError(
      'comparison-invalid',
      'Lamp hours and shifts must be finite numbers. Leave out the others.',
      { phrase: phrase('hours-unfit', {}) },
    );
  }
  const count = points.length;
  const meanHours = points.reduce((sum, point) => sum + point.hours, 0) / count;
  const meanShift = points.reduce((sum, point) => sum + point.shiftStops, 0) / count;
  const spread = points.reduce((sum, point) => sum + (point.hours - meanHours) ** 2, 0);
  if (count < FEWEST || !(spread > 0)) return null;
  const slope =
    points.reduce((sum, point) => sum + (point.hours - meanHours) * (point.shiftStops - meanShift), 0) /
    spread;
  const residual = points.reduce(
    (sum, point) => sum + (point.shiftStops - meanShift - slope * (point.hours - meanHours)) ** 2,
    0,
  );
  const halfWidth = studentT95(count - 2) * Math.sqrt(residual / (count - 2) / spread);
  const [low, high] = [100 * (slope - halfWidth), 100 * (slope + halfWidth)];
  return { stopsPer100Hours: 100 * slope, low, high, changing: low > 0 || high < 0 };
}

/**
 * Which multiple of its standard error bounds a mean on one side with 95 %? Student's t, by the expansion about the
 * normal quantile with the exact values for two and three degrees of freedom.
 *
 * @param degreesOfFreedom 2 or more.
 * @see [Abramowitz-Stegun-26.7.5] from memory
 * @example studentT95(10) // 1.812
 */
export function studentT95(degreesOfFreedom: number): number {
  if (degreesOfFreedom <= 2) return 2.919986;
  if (degreesOfFreedom === 3) return 2.353363;
  const z = 1.6448536269514722;
  const v = degreesOfFreedom;
  return (
    z +
    (z ** 3 + z) / (4 * v) +
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * v ** 2) +
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / (384 * v ** 3)
  );
}
