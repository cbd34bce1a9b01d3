import { type Phrase, phrase } from '../phrases.ts';
import type { CurveModel, CurveShape, TimerError } from './curve.ts';
import { familiesFor } from './families.ts';
import { type FamilyFit, fitFamily, priorFor } from './familyFit.ts';
import { misfitZ } from './misfit.ts';
import { monotoneShape } from './monotone.ts';
import { scatterOf } from './scatter.ts';
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
  readonly phrase: Phrase;
  /** The chosen model's fit; null for monotone interpolation. */
  readonly fit: FamilyFit | null;
  readonly shapeWeight: number;
  /** In falling belief. */
  readonly alternatives: readonly { readonly shape: CurveShape; readonly weight: number }[];
  readonly runnerUp: CurveModel | null;
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly extraScatterL: number;
}

const freeNumbers = 4;
/** Exposed steps of different time that interpolation needs. */
const stepsForInterpolation = 4;
/** Scatter of single steps, L*, that is put down to coating and wash rather than to a wrong model. */
const plausibleScatterL = 0.5;
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
  const families = familiesFor(seconds);
  const degreesOfFreedom = Math.max(0, L.length - freeNumbers);

  const covarianceWith = (shape: CurveShape, scatter: number) =>
    totalCovariance(steps.covarianceL, seconds, shape, timer, scatter);
  const fitBoth = (W: Whitener, from?: readonly FamilyFit[]) =>
    families.map((family, i) =>
      fitFamily(family, { seconds, L, W }, priorFor(family, seconds), from?.[i].free),
    );

  let fits = fitBoth(whitenerOf(steps.covarianceL));
  let shape = shapeOf(better(fits));
  fits = fitBoth(whitenerOf(covarianceWith(shape, 0)), fits);
  const before = better(fits);
  shape = shapeOf(before);

  const monotone = interpolate(steps, covarianceWith(shape, plausibleScatterL), before, degreesOfFreedom);
  if (monotone) return monotone;

  const { spread } = priorFor(before.family, seconds);
  const extraScatterL = scatterOf(before, seconds, L, spread, (scatter) => covarianceWith(shape, scatter));
  fits = fitBoth(whitenerOf(covarianceWith(shape, extraScatterL)), fits);

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
    ...reasonFor(best, other, L.length, extraScatterL),
    fit: best,
    shapeWeight: 1 / total,
    alternatives: kept
      .filter((fit) => fit !== best)
      .map((fit) => ({ shape: shapeOf(fit), weight: beliefs[ranked.indexOf(fit)] / total })),
    runnerUp: kept.includes(other) ? other.family.model : null,
    chiSquared: best.chiSquared,
    degreesOfFreedom,
    extraScatterL,
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
  extraScatterL: number,
): Pick<Choice, 'reason' | 'phrase'> {
  const name = modelNames[best.family.model];
  const one = aicc(best.objective, points, freeNumbers);
  const two = aicc(other.objective, points, freeNumbers);
  const alike = Math.abs(other.objective - best.objective) < 2;
  const scattered = extraScatterL > plausibleScatterL;
  const verdict = alike ? `both fit, and their difference is part of the interval` : `the lower fits better`;
  const scatter = scattered
    ? ` The steps scatter by ${extraScatterL.toFixed(1)} L* more than their stated uncertainty, which widens the interval.`
    : '';
  return {
    reason: `The ${name} is taken: AICc ${one.toFixed(1)} against ${two.toFixed(1)} for the ${modelNames[other.family.model]}; ${verdict}.${scatter}`,
    phrase: phrase('curve-chosen', {
      model: best.family.model,
      aicc: one,
      other: other.family.model,
      otherAicc: two,
      alike,
      scatterL: scattered ? extraScatterL : null,
    }),
  };
}

/** Interpolation where the models miss the points by more than error and scatter, and the points do fall in turn. */
function interpolate(
  { seconds, L }: UsedSteps,
  covariance: readonly (readonly number[])[],
  best: FamilyFit,
  degreesOfFreedom: number,
): Choice | null {
  const exposedTimes = new Set(seconds.filter((s) => s > 0)).size;
  if (seconds[0] !== 0 || exposedTimes < stepsForInterpolation) return null;
  const W = whitenerOf(covariance);
  const missed = best.family.lightness(best.free, seconds).map((value, i) => value - L[i]);
  const misfit = misfitZ(squares(whiten(W, missed)), degreesOfFreedom);
  if (misfit <= misfitLimit) return null;
  const variances = covariance.map((row, i) => row[i]);
  const shape = monotoneShape(seconds, L, variances);
  const residuals = seconds.map((s, i) => shapeLightness(shape, s) - L[i]);
  const chiSquared = squares(whiten(W, residuals));
  const pooled = L.length - new Set(shape.L).size;
  if (misfitZ(chiSquared, Math.max(1, pooled)) > misfitLimit) return null;
  // Whether the misses are the curve's shape or the steps' scatter can't be told: half of their variance counts as scatter.
  const missedScatterL = Math.sqrt(squares(missed) / (2 * L.length));
  const mostL = Math.max(...missed.map(Math.abs));
  return {
    shape,
    reason:
      `Monotone interpolation is taken: both models miss the points by more than their uncertainty and a scatter of ` +
      `${plausibleScatterL} L* (up to ${mostL.toFixed(1)} L*, ${misfit.toFixed(1)} standard deviations too much).`,
    phrase: phrase('curve-interpolated', { scatterL: plausibleScatterL, mostL, misfit }),
    fit: null,
    shapeWeight: 1,
    alternatives: [],
    runnerUp: null,
    chiSquared,
    degreesOfFreedom: pooled,
    extraScatterL: Math.max(plausibleScatterL, missedScatterL),
  };
}

function squares(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}
