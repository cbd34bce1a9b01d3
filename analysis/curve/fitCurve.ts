import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { chooseModel } from './chooseModel.ts';
import type { CurveOutcome, CurvePoint, TimerError } from './curve.ts';
import { describeCurve } from './describeCurve.ts';
import { nothingToSee, tooFewSteps } from './enough.ts';
import { reversedFrom } from './reversal.ts';
import { subset, withDiagonal } from './whiten.ts';

export interface FitOptions {
  /** n×n covariance of the points' L*, in their order, common-mode parts included; else independent by uL. */
  readonly covarianceL?: readonly (readonly number[])[];
  /** Error of the steps' times; half a second and 1 % unless told. */
  readonly timer?: TimerError;
}

/** L* by which every step may stray by itself, whatever its stated uncertainty: coating, weave, wash. */
const independentFloorL = 0.15;
export const defaultTimer: TimerError = { seconds: 0.5, share: 0.01 };
/** Exposed steps that must be left when a reversed tail is cut off. */
const leastLeft = 2;

/**
 * Which characteristic curve do these steps lie on, and how sure is it?
 *
 * `points` in any order: seconds 0 or more (0 is the unexposed base, which may be missing), CIELAB, uL. Fits the
 * build-up and the logistic model by generalised least squares with the covariance of the errors, chooses by AICc, and
 * takes monotone interpolation where both miss the points by more than their error. Steps of a reversal's tail are left
 * out and named. Returns 'too-few-steps' or 'blank' with what to do where there is nothing to fit.
 * Throws `strip-invalid` for values that are not numbers or a covariance of another size.
 * Source: docs/method.md §6.
 */
export function fitCurve(points: readonly CurvePoint[], options: FitOptions = {}): CurveOutcome {
  check(points, options.covarianceL);
  const order = points.map((_, i) => i).sort((i, j) => points[i].seconds - points[j].seconds || i - j);
  const sorted = order.map((i) => points[i]);
  const covarianceL = withDiagonal(
    options.covarianceL
      ? subset(options.covarianceL, order)
      : sorted.map((point, i) => sorted.map((_, j) => (i === j ? point.uL ** 2 : 0))),
    sorted.map(() => independentFloorL ** 2),
  );
  const refusal = tooFewSteps(sorted) ?? nothingToSee(sorted, covarianceL);
  if (refusal) return refusal;

  const tail = reversedTail(sorted, covarianceL);
  const used = sorted.map((_, i) => i).filter((i) => tail === null || i < tail);
  const timer = options.timer ?? defaultTimer;
  const choice = chooseModel({
    seconds: used.map((i) => sorted[i].seconds),
    L: used.map((i) => sorted[i].L),
    covarianceL: subset(covarianceL, used),
    timer,
  });
  return { kind: 'fitted', curve: describeCurve(sorted, used, covarianceL, timer, choice) };
}

function check(points: readonly CurvePoint[], covarianceL: FitOptions['covarianceL']): void {
  for (const { seconds, L, a, b, uL } of points) {
    if (!(seconds >= 0 && [seconds, L, a, b].every(Number.isFinite) && uL >= 0 && Number.isFinite(uL))) {
      throw new AnalysisError(
        'strip-invalid',
        `A step of ${seconds} s with L* ${L}, a* ${a}, b* ${b}, u ${uL} is not usable. Give finite numbers, times of 0 s or more.`,
        { phrase: phrase('point-unfit', { seconds, L, a, b, uL }) },
      );
    }
  }
  const sizes = covarianceL && [covarianceL.length, ...covarianceL.map((row) => row.length)];
  if (
    sizes?.some((size) => size !== points.length) ||
    covarianceL?.flat().some((value) => !Number.isFinite(value))
  ) {
    throw new AnalysisError(
      'strip-invalid',
      `The covariance must hold ${points.length} × ${points.length} finite numbers, a row and a column per step.`,
      { phrase: phrase('covariance-unfit', { count: points.length }) },
    );
  }
}

/** Index of the first step of a reversal's tail; null where there is none or too little would be left. */
function reversedTail(
  points: readonly CurvePoint[],
  covarianceL: readonly (readonly number[])[],
): number | null {
  const exposed = points.map((_, i) => i).filter((i) => points[i].seconds > 0);
  const from = reversedFrom(
    exposed.map((i) => points[i].L),
    subset(covarianceL, exposed),
  );
  if (from === null) return null;
  const tail = points.findIndex((point) => point.seconds === points[exposed[from]].seconds);
  const left = new Set(points.slice(0, tail).map((point) => point.seconds));
  const exposedLeft = left.size - (left.has(0) ? 1 : 0);
  return exposedLeft >= leastLeft && left.size >= 3 ? tail : null;
}
