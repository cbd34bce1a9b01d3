import type { FamilyFit } from './familyFit.ts';
import { whiten, whitenerOf } from './whiten.ts';

/** How far steps of one strip may be expected to scatter by themselves beyond what is read in them, L*: half-normal. */
const expectedScatterL = 0.2;
const tried = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1, 1.3, 1.7, 2.2, 3, 4, 6, 9];

/**
 * How much do the steps scatter beyond their stated uncertainty? L*, root mean square over what the residuals of a fit
 * leave possible (restricted likelihood times a half-normal expectation of 0.25 L*): coating, folds and wash differ from
 * step to step, and no model is quite true. Never 0, as a short strip can't rule a little of it out.
 */
export function scatterOf(
  fit: FamilyFit,
  seconds: readonly number[],
  L: readonly number[],
  spread: readonly number[],
  covarianceWith: (scatterL: number) => readonly (readonly number[])[],
): number {
  const residuals = fit.family.lightness(fit.free, seconds).map((value, i) => value - L[i]);
  const rows = fit.family.sensitivity(fit.free, seconds);
  const logs = tried.map(
    (scatter) =>
      restrictedLogLikelihood(covarianceWith(scatter), residuals, rows, spread) -
      (scatter / expectedScatterL) ** 2 / 2,
  );
  const most = Math.max(...logs);
  let total = 0;
  let squares = 0;
  tried.forEach((scatter, i) => {
    const width = ((tried[i + 1] ?? scatter) - (tried[i - 1] ?? scatter)) / 2;
    const belief = width * Math.exp(logs[i] - most);
    total += belief;
    squares += belief * scatter * scatter;
  });
  return Math.sqrt(squares / total);
}

/** Of the residuals alone: what the four free numbers could still take up is integrated out, linear around the fit. */
function restrictedLogLikelihood(
  covariance: readonly (readonly number[])[],
  residuals: readonly number[],
  rows: readonly (readonly number[])[],
  spread: readonly number[],
): number {
  const W = whitenerOf(covariance);
  const r = whiten(W, residuals);
  const columns = spread.map((_, j) =>
    whiten(
      W,
      rows.map((row) => row[j]),
    ),
  );
  const information = columns.map((one, i) =>
    columns.map((other, j) => dot(one, other) + (i === j ? spread[i] ** -2 : 0)),
  );
  const half = whitenerOf(information);
  const taken = whiten(
    half,
    columns.map((column) => dot(column, r)),
  );
  const logDeterminant = W.reduce((sum, row, i) => sum - 2 * Math.log(row[i]), 0);
  const logInformation = half.reduce((sum, row, i) => sum - 2 * Math.log(row[i]), 0);
  return -(logDeterminant + logInformation + dot(r, r) - dot(taken, taken)) / 2;
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * other[i], 0);
}
