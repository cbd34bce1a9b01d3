import type { BuildUpShape, CurveShape, LogisticShape } from './curve.ts';
import { ksFromLightness, lightnessFromKs } from './depthScale.ts';

/**
 * A model as the fitter sees it: four free numbers without bounds, all natural logarithms:
 * K/S of the base, K/S added by the dye at its deepest, seconds of the middle (tau, or half depth), steepness (p, or n).
 */
export interface Family {
  readonly model: 'build-up' | 'logistic';
  /** L* at each exposure, in seconds. */
  readonly lightness: (free: readonly number[], seconds: readonly number[]) => number[];
  readonly shape: (free: readonly number[]) => CurveShape;
  readonly free: (shape: BuildUpShape | LogisticShape) => number[];
  /** Middle of the steepnesses to be expected, logarithm; and its spread. */
  readonly steepness: { readonly middle: number; readonly spread: number };
}

export const buildUp: Family = {
  model: 'build-up',
  lightness: ([base, k, tau, p], seconds) => {
    const ksBase = Math.exp(base);
    const ksDye = Math.exp(k);
    const power = Math.exp(p);
    const baseL = lightnessFromKs(ksBase);
    return seconds.map((E) =>
      E > 0 ? lightnessFromKs(ksBase - ksDye * Math.expm1(-Math.exp(power * (Math.log(E) - tau)))) : baseL,
    );
  },
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

export const logisticInLightness: Family = {
  model: 'logistic',
  lightness: ([base, k, half, n], seconds) => {
    const baseL = lightnessFromKs(Math.exp(base));
    const range = baseL - lightnessFromKs(Math.exp(base) + Math.exp(k));
    return seconds.map((E) => baseL - range * logisticShare(E, half, n));
  },
  shape: (free) => logisticShape('L*', free),
  free: logisticFree,
  steepness: { middle: 0.1, spread: 0.4 },
};

export const logisticInKs: Family = {
  model: 'logistic',
  lightness: ([base, k, half, n], seconds) => {
    const ksBase = Math.exp(base);
    const ksDye = Math.exp(k);
    return seconds.map((E) => lightnessFromKs(ksBase + ksDye * logisticShare(E, half, n)));
  },
  shape: (free) => logisticShape('K/S', free),
  free: logisticFree,
  steepness: { middle: 0.25, spread: 0.4 },
};

/** In the order in which equally good ones are preferred: build-up first, as it behaves outside the data. */
export const families: readonly Family[] = [buildUp, logisticInLightness, logisticInKs];

/** The family that a parametric shape belongs to. */
export function familyOf(shape: BuildUpShape | LogisticShape): Family {
  if (shape.model === 'build-up') return buildUp;
  return shape.over === 'L*' ? logisticInLightness : logisticInKs;
}

function logisticShare(seconds: number, half: number, n: number): number {
  return seconds > 0 ? 1 / (1 + Math.exp(Math.exp(n) * (half - Math.log(seconds)))) : 0;
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
