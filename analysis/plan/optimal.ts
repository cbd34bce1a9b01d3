import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

/** Where to put steps so that a curve's parameters come out sharpest; positions as multiples of the curve's τ. */
export interface ExponentialDesign {
  /** The lower of the two exposures, in units of τ. */
  readonly lower: number;
  /** The longest exposure, in units of τ. */
  readonly upper: number;
  /** Share of the steps at each of the two. */
  readonly weight: 0.5;
}

/**
 * Which two exposures tell most about a build-up A·(1 − exp(−E/τ)) when both A and τ are unknown? Half of the steps at
 * the longest exposure that you allow, half at u = 1 − X·exp(−X)/(1 − exp(−X)). Holds for equal errors on every step;
 * two places cannot test the model, so add spread steps.
 *
 * @param longestOverTau X: the longest exposure divided by τ, above 0.
 * @throws AnalysisError `plan-invalid`.
 * @see [domain-6.5] D-optimal, computed; [Box-Lucas] from memory.
 * @example dOptimalExponential(3).lower // 0.843
 */
export function dOptimalExponential(longestOverTau: number): ExponentialDesign {
  if (!Number.isFinite(longestOverTau) || longestOverTau <= 0) {
    throw new AnalysisError(
      'plan-invalid',
      `A longest exposure of ${longestOverTau} τ says nothing about a curve. Give a ratio above 0.`,
      { phrase: phrase('plan-ratio-unfit', { ratio: longestOverTau }) },
    );
  }
  const x = longestOverTau;
  return { lower: 1 - (x * Math.exp(-x)) / -Math.expm1(-x), upper: x, weight: 0.5 };
}

export interface LogisticDesign {
  /** Distance from half depth of the two inner places, in logits. */
  readonly logit: number;
  /** Depths of the two inner places, 0 to 100 %; the outer two are the base and the plateau. */
  readonly lowerDepthPercent: number;
  readonly upperDepthPercent: number;
}

/**
 * At which depths do steps tell most about a four-parameter logistic? At both ends and where the depth is 26 % and 74 %:
 * the root z of 1/z = 2·tanh(z/2), in logits. For measured lightness with equal errors; not the 17.6 % and 82.4 % that
 * belong to yes-or-no data.
 *
 * @see [domain-6.6] D-optimal, computed.
 * @example dOptimalLogistic().logit // 1.044
 */
export function dOptimalLogistic(): LogisticDesign {
  let low = 0.5;
  let high = 2;
  // 2·tanh(z/2) − 1/z rises steadily between the ends, so halving finds its only root.
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (2 * Math.tanh(middle / 2) < 1 / middle) low = middle;
    else high = middle;
  }
  const logit = (low + high) / 2;
  const upper = 100 / (1 + Math.exp(-logit));
  return { logit, lowerDepthPercent: 100 - upper, upperDepthPercent: upper };
}

/**
 * How much does a series tell about A and τ of a build-up, against the best two-place series of the same number of steps
 * and the same longest time? The D-efficiency: the square root of the ratio of the information determinants; 0.5 means
 * that twice the steps would be needed.
 *
 * @param seconds exposed steps.
 * @param tauSeconds τ of the build-up, above 0.
 * @returns 0 to 1.
 * @throws AnalysisError `plan-invalid`.
 * @see [Atkinson-Donev] from memory.
 * @example exponentialEfficiency([100], 100) // 0
 */
export function exponentialEfficiency(seconds: readonly number[], tauSeconds: number): number {
  if (!(tauSeconds > 0) || seconds.length === 0 || !seconds.every((t) => Number.isFinite(t) && t > 0)) {
    throw new AnalysisError('plan-invalid', 'Give at least one exposure and τ, all above 0 s.', {
      phrase: phrase('plan-exposures-missing', {}),
    });
  }
  const units = seconds.map((t) => t / tauSeconds);
  const best = dOptimalExponential(Math.max(...units));
  return Math.sqrt(meanDeterminant(units) / meanDeterminant([best.lower, best.upper]));
}

function meanDeterminant(units: readonly number[]): number {
  let aa = 0;
  let at = 0;
  let tt = 0;
  for (const u of units) {
    const dA = -Math.expm1(-u);
    const dTau = u * Math.exp(-u);
    aa += dA * dA;
    at += dA * dTau;
    tt += dTau * dTau;
  }
  return Math.max(0, aa * tt - at * at) / units.length ** 2;
}
