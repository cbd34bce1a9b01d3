import { ksFromLightness } from './depthScale.ts';
import type { Family } from './families.ts';
import { fitFromMany, fitLeastSquares, type LeastSquaresFit } from './levenberg.ts';
import { type Whitener, whiten } from './whiten.ts';

/** Weak knowledge of the four free numbers: what keeps an asymptote that the strip does not show from running away. */
export interface Prior {
  readonly middle: readonly number[];
  readonly spread: readonly number[];
}

/** Points to fit, ready for the fitter. */
export interface CurveData {
  readonly seconds: readonly number[];
  readonly L: readonly number[];
  readonly W: Whitener;
}

export interface FamilyFit {
  readonly family: Family;
  readonly free: readonly number[];
  /** Squared whitened misfit of the points alone, and with what the prior adds. */
  readonly chiSquared: number;
  readonly objective: number;
  readonly covariance: readonly (readonly number[])[] | null;
  readonly converged: boolean;
}

/** Unexposed cloth between L* 60 and 97, and about 75 to 96 where the strip doesn't show it. */
const baseSeenPrior = { middle: -3, spread: 2 };
const baseUnseenPrior = { middle: -3.3, spread: 1 };
/** Dye at its deepest between L* 12 and 80, most likely about 36. */
const deepestPrior = { middle: 1.4, spread: 1.3 };
/** The middle of the curve lies within some 6 stops of the middle of the strip. */
const middleSpread = 2.5;

/** What is believed before the points are seen. `seconds`: all exposures, 0 for the base. */
export function priorFor(family: Family, seconds: readonly number[]): Prior {
  const logs = seconds.filter((s) => s > 0).map(Math.log);
  const middle = logs.reduce((sum, value) => sum + value, 0) / logs.length;
  const base = seconds.some((s) => s === 0) ? baseSeenPrior : baseUnseenPrior;
  const { steepness } = family;
  return {
    middle: [base.middle, deepestPrior.middle, middle, steepness.middle],
    spread: [base.spread, deepestPrior.spread, middleSpread, steepness.spread],
  };
}

/** Fits one model. Without `from`, starts from several middles and steepnesses spread over the strip. */
export function fitFamily(
  family: Family,
  data: CurveData,
  prior: Prior,
  from?: readonly number[],
): FamilyFit {
  const residuals = residualsOf(family, data, prior);
  const options = { tolerance: 1e-9, maxIterations: 100, jacobian: jacobianOf(family, data, prior.spread) };
  const fit: LeastSquaresFit = from
    ? fitLeastSquares(residuals, from, options)
    : fitFromMany(residuals, startsFor(data, prior), options);
  const penalty = fit.parameters.reduce(
    (sum, value, j) => sum + ((value - prior.middle[j]) / prior.spread[j]) ** 2,
    0,
  );
  return {
    family,
    free: fit.parameters,
    chiSquared: Math.max(0, fit.rss - penalty),
    objective: fit.rss,
    covariance: fit.covariance,
    converged: fit.converged,
  };
}

/** A resampled fit need be no finer than a small part of its own spread. */
const refitTolerance = 1e-5;

/**
 * A function that fits the free numbers alone again, to L* and a middle of the prior drawn anew, from those fitted
 * before. All draws share their exposures, errors and first slopes.
 */
export function refitter(
  family: Family,
  { seconds, W }: Pick<CurveData, 'seconds' | 'W'>,
  spread: Prior['spread'],
  from: readonly number[],
): (L: readonly number[], middle: readonly number[]) => readonly number[] {
  const jacobian = jacobianOf(family, { seconds, W }, spread);
  const startJacobian = jacobian(from);
  const options = {
    tolerance: refitTolerance,
    maxIterations: 40,
    jacobian,
    startJacobian,
    describe: false,
  };
  return (L, middle) =>
    fitLeastSquares(residualsOf(family, { seconds, L, W }, { middle, spread }), from, options).parameters;
}

function residualsOf(family: Family, { seconds, L, W }: CurveData, prior: Prior) {
  return (free: readonly number[]): number[] => {
    const modelled = family.lightness(free, seconds);
    for (let i = 0; i < modelled.length; i++) modelled[i] -= L[i];
    const whitened = whiten(W, modelled);
    for (let j = 0; j < free.length; j++) whitened.push((free[j] - prior.middle[j]) / prior.spread[j]);
    return whitened;
  };
}

function jacobianOf(
  family: Family,
  { seconds, W }: Pick<CurveData, 'seconds' | 'W'>,
  spread: Prior['spread'],
): (free: readonly number[]) => (readonly number[])[] {
  const ofPrior = spread.map((one, j) => spread.map((_, k) => (j === k ? 1 / one : 0)));
  return (free) => [...whitenedRows(W, family.sensitivity(free, seconds), free.length), ...ofPrior];
}

function whitenedRows(W: Whitener, rows: readonly (readonly number[])[], count: number): number[][] {
  return W.map((weights) => {
    const row = new Array<number>(count).fill(0);
    for (let i = 0; i < weights.length; i++) {
      const weight = weights[i];
      for (let j = 0; j < count; j++) row[j] += weight * rows[i][j];
    }
    return row;
  });
}

function startsFor({ seconds, L }: CurveData, prior: Prior): number[][] {
  const logs = seconds.filter((s) => s > 0).map(Math.log);
  const shortest = Math.min(...logs);
  const longest = Math.max(...logs);
  const baseL = Math.min(97, Math.max(20, ...L));
  const deepestL = Math.min(baseL - 5, Math.max(8, Math.min(...L) - 1));
  const base = Math.log(ksFromLightness(baseL));
  const k = Math.log(ksFromLightness(deepestL) - ksFromLightness(baseL));
  const steepness = prior.middle[3];
  return [
    [base, k, (shortest + longest) / 2, steepness],
    [base, k, shortest, steepness],
    [base, k + 0.5, longest, steepness + 2 * Math.min(0.2, prior.spread[3])],
  ];
}
