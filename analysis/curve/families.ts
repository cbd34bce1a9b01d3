import type { BuildUpShape, CurveShape, LogisticShape } from './curve.ts';
import { ksFromLightness, lightnessFromKs, lightnessSlope } from './depthScale.ts';
import { delayedShare, exponentialShare, logisticShare, type Share } from './share.ts';

/**
 * A model as the fitter sees it: four free numbers without bounds, all natural logarithms:
 * K/S of the base, K/S added by the dye at its deepest, seconds of the middle (tau, or half depth), steepness (p, n, or
 * how long a toe the build-up has).
 */
export interface Family {
  readonly model: 'build-up' | 'logistic';
  /** L* at each exposure, in seconds. */
  readonly lightness: (free: readonly number[], seconds: readonly number[]) => number[];
  /** d(L*)/d(free number): a row of four per exposure. */
  readonly sensitivity: (free: readonly number[], seconds: readonly number[]) => number[][];
  readonly shape: (free: readonly number[]) => CurveShape;
  readonly free: (shape: BuildUpShape | LogisticShape) => number[];
  /** Middle of the steepnesses to be expected, logarithm; and its spread. */
  readonly steepness: { readonly middle: number; readonly spread: number };
}

type ShareOf = (seconds: number, middle: number, steepness: number) => Share;
type Evaluators = Pick<Family, 'lightness' | 'sensitivity'>;

export const buildUp: Family = {
  model: 'build-up',
  ...overKs(exponentialShare),
  shape: ([base, k, tau, p]) => ({
    model: 'build-up',
    ksBase: Math.exp(base),
    k: Math.exp(k),
    tauSeconds: Math.exp(tau),
    p: Math.exp(p),
  }),
  free: (shape) => {
    const { ksBase, k, tauSeconds, p } = shape as BuildUpShape;
    return [ksBase, k, tauSeconds, p].map(Math.log);
  },
  steepness: { middle: 0.1, spread: 0.4 },
};

/** First order, once an inhibitor in the coating (air, what is left of a reducer) is used up [domain-2.2]. */
export const delayedBuildUp: Family = {
  model: 'build-up',
  ...overKs(delayedShare),
  shape: ([base, k, tau, d]) => ({
    model: 'build-up',
    ksBase: Math.exp(base),
    k: Math.exp(k),
    tauSeconds: Math.exp(tau),
    p: 1,
    delaySeconds: Math.exp(tau + d),
  }),
  free: (shape) => {
    const { ksBase, k, tauSeconds, delaySeconds } = shape as BuildUpShape;
    return [ksBase, k, tauSeconds, (delaySeconds ?? 1e-3 * tauSeconds) / tauSeconds].map(Math.log);
  },
  steepness: { middle: -0.7, spread: 0.8 },
};

export const logisticInLightness: Family = {
  model: 'logistic',
  ...overLightness(logisticShare),
  shape: (free) => logisticShape('L*', free),
  free: logisticFree,
  steepness: { middle: 0.1, spread: 0.4 },
};

export const logisticInKs: Family = {
  model: 'logistic',
  ...overKs(logisticShare),
  shape: (free) => logisticShape('K/S', free),
  free: logisticFree,
  steepness: { middle: 0.25, spread: 0.4 },
};

/** In the order in which equally good ones are preferred: build-up first, as it behaves outside the data. */
export const families: readonly Family[] = [buildUp, logisticInLightness, logisticInKs, delayedBuildUp];

/** Exposed steps that a toe must show itself in; with fewer only its prior would speak. */
const stepsForToe = 4;

/** The families that a strip of these exposures, 0 for the base, can tell apart. */
export function familiesFor(seconds: readonly number[]): readonly Family[] {
  const exposed = new Set(seconds.filter((s) => s > 0)).size;
  return exposed >= stepsForToe ? families : families.filter((family) => family !== delayedBuildUp);
}

/** The family that a parametric shape belongs to. */
export function familyOf(shape: BuildUpShape | LogisticShape): Family {
  if (shape.model === 'build-up') return shape.delaySeconds === undefined ? buildUp : delayedBuildUp;
  return shape.over === 'L*' ? logisticInLightness : logisticInKs;
}

/** The share is of the dye: K/S grows by it. */
function overKs(share: ShareOf): Evaluators {
  return {
    lightness: ([base, k, middle, steepness], seconds) => {
      const ksBase = Math.exp(base);
      const ksDye = Math.exp(k);
      return seconds.map((E) => lightnessFromKs(ksBase + ksDye * share(E, middle, steepness).value));
    },
    sensitivity: ([base, k, middle, steepness], seconds) => {
      const ksBase = Math.exp(base);
      const ksDye = Math.exp(k);
      return seconds.map((E) => {
        const { value, byMiddle, bySteepness } = share(E, middle, steepness);
        const slope = lightnessSlope(ksBase + ksDye * value);
        return [slope * ksBase, slope * ksDye * value, slope * ksDye * byMiddle, slope * ksDye * bySteepness];
      });
    },
  };
}

/** The share is of the way in L* from the base to the deepest. */
function overLightness(share: ShareOf): Evaluators {
  return {
    lightness: ([base, k, middle, steepness], seconds) => {
      const baseL = lightnessFromKs(Math.exp(base));
      const range = baseL - lightnessFromKs(Math.exp(base) + Math.exp(k));
      return seconds.map((E) => baseL - range * share(E, middle, steepness).value);
    },
    sensitivity: ([base, k, middle, steepness], seconds) => {
      const ksBase = Math.exp(base);
      const ksDye = Math.exp(k);
      const range = lightnessFromKs(ksBase) - lightnessFromKs(ksBase + ksDye);
      const baseSlope = lightnessSlope(ksBase) * ksBase;
      const deepestSlope = lightnessSlope(ksBase + ksDye);
      return seconds.map((E) => {
        const { value, byMiddle, bySteepness } = share(E, middle, steepness);
        return [
          baseSlope * (1 - value) + deepestSlope * ksBase * value,
          deepestSlope * ksDye * value,
          -range * byMiddle,
          -range * bySteepness,
        ];
      });
    },
  };
}

function logisticShape(over: LogisticShape['over'], [base, k, half, n]: readonly number[]): LogisticShape {
  return {
    model: 'logistic',
    over,
    baseL: lightnessFromKs(Math.exp(base)),
    deepestL: lightnessFromKs(Math.exp(base) + Math.exp(k)),
    halfSeconds: Math.exp(half),
    n: Math.exp(n),
  };
}

function logisticFree(shape: BuildUpShape | LogisticShape): number[] {
  const { baseL, deepestL, halfSeconds, n } = shape as LogisticShape;
  const ksBase = Math.max(ksFromLightness(baseL), 1e-9);
  return [ksBase, ksFromLightness(deepestL) - ksBase, halfSeconds, n].map(Math.log);
}
