import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

export interface EwmaChart {
  /** The weighted average after each value. */
  readonly averages: readonly number[];
  /** Limits in the long run; they are narrower for the first few values, which these limits let pass. */
  readonly lower: number;
  readonly upper: number;
  /** Positions at which the average lies beyond a limit. */
  readonly beyond: readonly number[];
}

/**
 * Has a value crept away slowly? Exponentially weighted moving average: every new value counts with `weight`, all earlier
 * ones fade out. Sees a small lasting change, such as ageing tubes, sooner than a chart of single values.
 *
 * @param values in the order of time, all finite.
 * @param steady.target where the values should be; the average starts there.
 * @param steady.sigma standard deviation of single values, 0 or more.
 * @param weight of the newest value, above 0 to 1; 0.2 unless said otherwise.
 * @throws AnalysisError `comparison-invalid`.
 * @see [NIST-6.3.2.4]; limits target ± 3·sigma·√(weight/(2 − weight))
 * @example ewmaChart([52], { target: 50, sigma: 2.0539 }, 0.3).averages // [50.6]
 */
export function ewmaChart(
  values: readonly number[],
  steady: { readonly target: number; readonly sigma: number },
  weight = 0.2,
): EwmaChart {
  const { target, sigma } = steady;
  if (!(weight > 0 && weight <= 1) || !(sigma >= 0) || ![target, sigma, ...values].every(Number.isFinite)) {
    throw new AnalysisError(
      'comparison-invalid',
      `A moving average needs finite numbers, a weight above 0 to 1 (received ${weight}) and a deviation of 0 or more (received ${sigma}).`,
      { phrase: phrase('average-unfit', { weight, sigma }) },
    );
  }
  let average = target;
  const averages = values.map((value) => {
    average = weight * value + (1 - weight) * average;
    return average;
  });
  const reach = 3 * sigma * Math.sqrt(weight / (2 - weight));
  const lower = target - reach;
  const upper = target + reach;
  return { averages, lower, upper, beyond: averages.flatMap((a, i) => (a < lower || a > upper ? [i] : [])) };
}
