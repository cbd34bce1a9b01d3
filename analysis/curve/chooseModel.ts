import type { CurveModel, CurveShape, TimerError } from './curve.ts';
import { families } from './families.ts';
import { type FamilyFit, fitFamily, priorFor } from './familyFit.ts';
import { misfitZ } from './misfit.ts';
import { monotoneShape } from './monotone.ts';
import { shapeLightness } from './shape.ts';
import { totalCovariance } from './totalCovariance.ts';
import { type Whitener, whiten, whitenerOf } from './whiten.ts';

/** What takes part in the fit, in rising exposure. */
export interface UsedSteps {
  readonly seconds: readonly number[];
  readonly L: readonly number[];
  readonly covarianceL: readonly (readonly number[])[];
  readonly timer: TimerError;
}

export interface Choice {
  readonly shape: CurveShape;
  readonly reason: string;
  /** The chosen model's fit; null for monotone interpolation. */
  readonly fit: FamilyFit | null;
  readonly shapeWeight: number;
  /** In falling belief. */
  readonly alternatives: readonly { readonly shape: CurveShape; readonly weight: number }[];
  readonly runnerUp: CurveModel | null;
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly extraScatterL: number;
  readonly steepnessHeld: boolean;
}

/** Exposed steps of different time from which the steepness is fitted rather than held at 1. */
const stepsForSteepness = 4;
/** Misfit, in normal standard deviations, from which a model is given up: 1 in 200. */
const misfitLimit = 2.6;
/** Belief below which the runner-up is not kept. */
const leastBelief = 0.02;

export const modelNames: Readonly<Record<CurveModel, string>> = {
  'build-up': 'build-up model',
  logistic: 'logistic model',
  monotone: 'monotone interpolation',
};

/** Fits both models, and says which to take and why. */
export function chooseModel(steps: UsedSteps): Choice {
  const { seconds, L, timer } = steps;
  const exposedTimes = new Set(seconds.filter((s) => s > 0)).size;
  const steepnessHeld = exposedTimes < stepsForSteepness;
  const free = steepnessHeld ? 3 : 4;
  const degreesOfFreedom = Math.max(0, L.length - free);

  const covarianceWith = (shape: CurveShape, scatter: number) =>
    totalCovariance(steps.covarianceL, seconds, shape, timer, scatter);
  const fitBoth = (W: Whitener, from?: readonly FamilyFit[]) =>
    families.map((family, i) =>
      fitFamily(family, { seconds, L, W }, priorFor(family, seconds, steepnessHeld), from?.[i].free),
    );

  let fits = fitBoth(whitenerOf(steps.covarianceL));
  let shape = shapeOf(better(fits));
  fits = fitBoth(whitenerOf(covarianceWith(shape, 0)), fits);
  const before = better(fits);
  shape = shapeOf(before);

  const misfit = misfitZ(before.chiSquared, degreesOfFreedom);
  if (misfit > misfitLimit && seconds[0] === 0 && exposedTimes >= stepsForSteepness) {
    const monotone = interpolate(steps, covarianceWith(shape, 0), before, degreesOfFreedom, misfit);
    if (monotone) return monotone;
  }
  const extraScatterL = scatterBeyond(
    before,
    steps,
    (scatter) => covarianceWith(shape, scatter),
    degreesOfFreedom,
  );
  if (extraScatterL > 0) fits = fitBoth(whitenerOf(covarianceWith(shape, extraScatterL)), fits);

  const ranked = [...fits].sort((one, other) => one.objective - other.objective);
  const [best] = ranked;
  const beliefs = ranked.map((fit) => Math.exp((best.objective - fit.objective) / 2));
  const kept = ranked.filter((fit, i) => fit.covariance !== null && beliefs[i] >= leastBelief);
  const total = ranked.reduce(
    (sum, fit, i) => (fit === best || kept.includes(fit) ? sum + beliefs[i] : sum),
    0,
  );
  const other = ranked.find((fit) => fit.family.model !== best.family.model)!;
  return {
    shape: shapeOf(best),
    reason: reasonFor(best, other, L.length, free, steepnessHeld, extraScatterL),
    fit: best,
    shapeWeight: 1 / total,
    alternatives: kept
      .filter((fit) => fit !== best)
      .map((fit) => ({ shape: shapeOf(fit), weight: beliefs[ranked.indexOf(fit)] / total })),
    runnerUp: kept.includes(other) ? other.family.model : null,
    chiSquared: best.chiSquared,
    degreesOfFreedom,
    extraScatterL,
    steepnessHeld,
  };
}

function shapeOf(fit: FamilyFit): CurveShape {
  return fit.family.shape(fit.free);
}

/** The first of equally good ones. */
function better(fits: readonly FamilyFit[]): FamilyFit {
  return fits.reduce((best, fit) => (fit.objective < best.objective ? fit : best));
}

/** Akaike's criterion with the small-sample term; without it where there are too few points for the term to exist. */
export function aicc(chiSquared: number, points: number, free: number): number {
  const room = points - free - 1;
  return chiSquared + 2 * free + (room > 0 ? (2 * free * (free + 1)) / room : 0);
}

function reasonFor(
  best: FamilyFit,
  other: FamilyFit,
  points: number,
  free: number,
  held: boolean,
  extraScatterL: number,
): string {
  const name = modelNames[best.family.model];
  const one = aicc(best.objective, points, free).toFixed(1);
  const two = aicc(other.objective, points, free).toFixed(1);
  const verdict =
    Math.abs(other.objective - best.objective) < 2
      ? `both fit, and their difference is part of the interval`
      : `the lower fits better`;
  const steep = held ? ' Its steepness is held at 1, as there are fewer than four exposed steps.' : '';
  const scatter =
    extraScatterL > 0
      ? ` The steps scatter by ${extraScatterL.toFixed(1)} L* more than their stated uncertainty, which widens the interval.`
      : '';
  return `The ${name} is taken: AICc ${one} against ${two} for the ${modelNames[other.family.model]}; ${verdict}.${steep}${scatter}`;
}

/** Interpolation where both models miss the points and the points do fall one after another. */
function interpolate(
  { seconds, L }: UsedSteps,
  covariance: readonly (readonly number[])[],
  best: FamilyFit,
  degreesOfFreedom: number,
  misfit: number,
): Choice | null {
  const shape = monotoneShape(
    seconds,
    L,
    covariance.map((row, i) => row[i]),
  );
  const residuals = seconds.map((s, i) => shapeLightness(shape, s) - L[i]);
  const chiSquared = squares(whiten(whitenerOf(covariance), residuals));
  const pooled = L.length - new Set(shape.L).size;
  if (misfitZ(chiSquared, Math.max(1, pooled)) > misfitLimit) return null;
  return {
    shape,
    reason:
      `Monotone interpolation is taken: both models miss the points by more than their uncertainty ` +
      `(misfit ${best.chiSquared.toFixed(0)} for ${degreesOfFreedom} degrees of freedom at best, ` +
      `${misfit.toFixed(1)} standard deviations too much).`,
    fit: null,
    shapeWeight: 1,
    alternatives: [],
    runnerUp: null,
    chiSquared,
    degreesOfFreedom: pooled,
    extraScatterL: 0,
    steepnessHeld: false,
  };
}

/** Independent scatter that brings the misfit down to where it no longer surprises: one standard deviation above its mean. */
function scatterBeyond(
  fit: FamilyFit,
  { seconds, L }: UsedSteps,
  covarianceWith: (scatter: number) => readonly (readonly number[])[],
  degreesOfFreedom: number,
): number {
  const expected = degreesOfFreedom + Math.sqrt(2 * degreesOfFreedom);
  if (degreesOfFreedom < 1 || fit.chiSquared <= expected) return 0;
  const residuals = fit.family.lightness(fit.free, seconds).map((value, i) => value - L[i]);
  let low = 0;
  let high = 1 + Math.max(...residuals.map(Math.abs)) * Math.sqrt(L.length);
  for (let halving = 0; halving < 30; halving++) {
    const middle = (low + high) / 2;
    if (squares(whiten(whitenerOf(covarianceWith(middle)), residuals)) > expected) low = middle;
    else high = middle;
  }
  return high;
}

function squares(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}
