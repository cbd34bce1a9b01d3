import type { Curve, LogisticShape } from '../../../analysis/curve/curve.ts';

/** Logistic with closed-form answers: every figure of it can be worked out by hand. */
export interface Known {
  readonly baseL: number;
  readonly deepestL: number;
  readonly halfSeconds: number;
  readonly n: number;
  /** a* and b* at base and at the deepest; straight in depth between. */
  readonly base?: readonly [number, number];
  readonly deepest?: readonly [number, number];
}

export const INDIGO: Known = {
  baseL: 88,
  deepestL: 30,
  halfSeconds: 120,
  n: 1.5,
  base: [0, 4],
  deepest: [-2, -34],
};

export function knownShape(known: Known): LogisticShape {
  const { baseL, deepestL, halfSeconds, n } = known;
  return { model: 'logistic', over: 'L*', baseL, deepestL, halfSeconds, n };
}

/** L* by the formula itself. */
export function knownL(known: Known, seconds: number): number {
  const { baseL, deepestL, halfSeconds, n } = known;
  return seconds <= 0 ? baseL : baseL - (baseL - deepestL) / (1 + (halfSeconds / seconds) ** n);
}

/** Seconds to a depth of 0..1 by the formula itself. */
export function knownSeconds(known: Known, depth: number): number {
  return known.halfSeconds * (depth / (1 - depth)) ** (1 / known.n);
}

export function knownCurve(known: Known, uL = 0.5): Curve {
  const { baseL, deepestL, n } = known;
  const range = baseL - deepestL;
  const [a0, b0] = known.base ?? [0, 0];
  const [a1, b1] = known.deepest ?? [0, 0];
  const seconds = [0, 15, 30, 60, 120, 240, 480, 960].map((t) => (t * known.halfSeconds) / 120);
  const points = seconds.map((t) => {
    const depth = (baseL - knownL(known, t)) / range;
    return { seconds: t, L: knownL(known, t), a: a0 + (a1 - a0) * depth, b: b0 + (b1 - b0) * depth, uL };
  });
  return {
    model: 'logistic',
    reason: 'made from known numbers',
    runnerUp: null,
    parameters: {},
    points,
    covarianceL: points.map((_, i) => points.map((_, j) => (i === j ? uL * uL : 0))),
    used: points.map((_, i) => i),
    timer: { seconds: 0.5, share: 0 },
    shape: knownShape(known),
    alternatives: [],
    shapeWeight: 1,
    chiSquared: 0,
    degreesOfFreedom: 4,
    extraScatterL: 0,
    colour: { a: [a0, a1 - a0], b: [b0, b1 - b0], depthFrom: 0, depthTo: 1 },
    baseSeen: true,
    baseL,
    baseU: uL / 2,
    deepestL,
    deepestU: uL / 2,
    shortestSeconds: seconds[1],
    longestSeconds: seconds[seconds.length - 1],
    straight: null,
    exposureScaleStops: Math.log2(knownSeconds(known, 0.9) / knownSeconds(known, 0.1)),
    contrastLPerStop: (range * n * Math.LN2) / 4,
    secondsTo90: knownSeconds(known, 0.9),
    secondsToFull: knownSeconds(known, 1 - 1 / range),
    reversed: false,
    reversedFromSeconds: null,
    remarks: [],
  };
}
