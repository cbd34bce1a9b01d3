import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { type RunSignal, runSignals } from './runRules.ts';

/** Mean range of two values of a normal distribution, in standard deviations. [Montgomery] */
const D2 = 1.128;
/** Upper limit of the range of two, in mean ranges. [Montgomery] */
const D4 = 3.267;

/** Fewest values that limits are drawn from, and how many make a baseline. Common practice. */
export const PROVISIONAL_FROM = 8;
export const BASELINE_FROM = 20;

export interface IndividualsChart {
  readonly state: 'provisional' | 'baseline';
  /** How many values, from the first, the limits come from; later values are judged by them. */
  readonly baselineCount: number;
  readonly mean: number;
  readonly meanMovingRange: number;
  /** Standard deviation as the moving range sees it: mean range / 1.128. */
  readonly sigma: number;
  /** mean ± 2.66 mean ranges. */
  readonly lower: number;
  readonly upper: number;
  /** |x_i − x_{i−1}|, one fewer than the values. */
  readonly movingRanges: readonly number[];
  readonly movingRangeUpper: number;
  readonly signals: readonly RunSignal[];
  /** Positions of values whose step from the one before is beyond the range's limit. */
  readonly rangeSignals: readonly number[];
}

/**
 * Is a control value still what it was? Individuals and moving-range chart: limits from how much each value differs from
 * the one before, so that a slow drift does not widen them. The first 20 values make the baseline; with 8 to 19 the
 * limits are provisional and come from all of them. Holds for values made under nominally equal conditions.
 *
 * @param values in the order of time, any unit, at least 8, all finite.
 * @throws AnalysisError `comparison-invalid` with fewer than 8 values or one that is no number.
 * @see [NIST-6.3.2.2], [domain-6.11]
 * @example individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]).mean // 50.81
 */
export function individualsChart(values: readonly number[]): IndividualsChart {
  if (values.length < PROVISIONAL_FROM || !values.every(Number.isFinite)) {
    throw new AnalysisError(
      'comparison-invalid',
      `A chart needs ${PROVISIONAL_FROM} or more numbers, received ${values.length}. Expose more control scraps.`,
      { phrase: phrase('chart-too-short', { least: PROVISIONAL_FROM, count: values.length }) },
    );
  }
  const baseline = values.slice(0, BASELINE_FROM);
  const mean = average(baseline);
  const meanMovingRange = average(ranges(baseline));
  const sigma = meanMovingRange / D2;
  const movingRanges = ranges(values);
  const movingRangeUpper = D4 * meanMovingRange;
  return {
    state: baseline.length >= BASELINE_FROM ? 'baseline' : 'provisional',
    baselineCount: baseline.length,
    mean,
    meanMovingRange,
    sigma,
    lower: mean - 3 * sigma,
    upper: mean + 3 * sigma,
    movingRanges,
    movingRangeUpper,
    signals: runSignals(values, mean, sigma),
    rangeSignals: movingRanges.flatMap((range, i) => (range > movingRangeUpper ? [i + 1] : [])),
  };
}

function ranges(values: readonly number[]): number[] {
  return values.slice(1).map((value, i) => Math.abs(value - values[i]));
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
