import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { CurvePoint } from '../../../analysis/curve/curve.ts';

/*
 * Strips of known truth, written without the code under test. L* after CIE 15 (216/24389, 24389/27); reflectance after
 * Kubelka and Munk. The laws are of several kinds on purpose, most of them none that the fitter knows.
 */

function lightness(Y: number): number {
  return Y > 216 / 24389 ? 116 * Math.cbrt(Y) - 16 : (Y * 24389) / 27;
}

function luminance(L: number): number {
  return L > 8 ? ((L + 16) / 116) ** 3 : (L * 27) / 24389;
}

const reflectance = (ks: number) => 1 / (1 + ks + Math.sqrt(ks * ks + 2 * ks));
const absorption = (R: number) => (1 - R) ** 2 / (2 * R);
const rise = (u: number) => -Math.expm1(-u);

/** Share 0..1 against exposure over its scale. */
export const laws = {
  exponential: rise,
  steeper: (u: number) => rise(u ** 1.3),
  flatter: (u: number) => rise(u ** 0.8),
  hill: (u: number) => u / (1 + u),
  'steep hill': (u: number) => u ** 2 / (1 + u ** 2),
  threshold: (u: number) => rise(Math.max(0, u - 0.1)),
  'two-rate': (u: number) => 0.6 * rise(1.6 * u) + 0.4 * rise(0.4 * u),
  'self-screening': (u: number) => Math.log1p((Math.E ** 2 - 1) * rise(u)) / 2,
} as const;
export type Law = keyof typeof laws;

export interface Dye {
  readonly law: Law;
  /** What the law's share is of: the dye's K/S, or the way in L*. */
  readonly over: 'K/S' | 'L*';
  readonly baseL: number;
  readonly deepestL: number;
  readonly scaleSeconds: number;
}

/** L* after an exposure. */
export function trueLightness({ law, over, baseL, deepestL, scaleSeconds }: Dye, seconds: number): number {
  const share = laws[law](seconds / scaleSeconds);
  if (over === 'L*') return baseL - (baseL - deepestL) * share;
  const base = absorption(luminance(baseL));
  return lightness(reflectance(base + (absorption(luminance(deepestL)) - base) * share));
}

/** Seconds to an L* between base and deepest, by halving. */
export function trueSeconds(dye: Dye, L: number): number {
  let low = Math.log(dye.scaleSeconds) - 14;
  let high = Math.log(dye.scaleSeconds) + 14;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (trueLightness(dye, Math.exp(middle)) > L) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

export class Dice {
  private readonly generator;

  constructor(seed: number) {
    this.generator = xoroshiro128plus(seed);
  }

  between(low: number, high: number): number {
    return low + (high - low) * uniformFloat64(this.generator);
  }

  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.between(0, 1))) * Math.cos(2 * Math.PI * this.between(0, 1));
  }

  pick<T>(values: readonly T[]): T {
    return values[Math.floor(this.between(0, values.length))];
  }
}

export function someDye(dice: Dice): Dye {
  const baseL = dice.between(80, 95);
  return {
    law: dice.pick(Object.keys(laws) as Law[]),
    over: dice.pick(['K/S', 'K/S', 'L*']),
    baseL,
    deepestL: Math.min(baseL - 25, dice.between(18, 60)),
    scaleSeconds: Math.exp(dice.between(Math.log(40), Math.log(500))),
  };
}

/** Whole seconds, so many steps of so many stops, more or less around the middle of the curve. */
export function someTimes(dice: Dice, dye: Dye, steps: number): number[] {
  const stops = dice.pick([1, 1, 0.7, 0.5]);
  const middle = dye.scaleSeconds * 2 ** dice.between(-0.7, 1.3);
  const times = Array.from({ length: steps }, (_, i) => middle * 2 ** (stops * (i - (steps - 1) / 2)));
  return [0, ...times.map((time) => Math.max(1, Math.round(time)))];
}

export interface ReadStrip {
  readonly points: CurvePoint[];
  readonly covarianceL: number[][];
}

/** The strip as read: each step errs by itself, all together by a shift and by a tilt of tone. */
export function readTrueStrip(
  dice: Dice,
  dye: Dye,
  seconds: readonly number[],
  noise: { readonly single: number; readonly shift: number; readonly tilt: number },
): ReadStrip {
  const truth = seconds.map((s) => trueLightness(dye, s));
  const lever = truth.map((L) => (L - 60) / 30);
  const shift = noise.shift * dice.normal();
  const tilt = noise.tilt * dice.normal();
  const covarianceL = seconds.map((_, i) =>
    seconds.map(
      (_, j) => (i === j ? noise.single ** 2 : 0) + noise.shift ** 2 + noise.tilt ** 2 * lever[i] * lever[j],
    ),
  );
  return {
    covarianceL,
    points: seconds.map((s, i) => ({
      seconds: s,
      L: truth[i] + shift + tilt * lever[i] + noise.single * dice.normal(),
      a: -0.05 * (truth[0] - truth[i]),
      b: 4 - 0.5 * (truth[0] - truth[i]),
      uL: Math.sqrt(covarianceL[i][i]),
    })),
  };
}

/** Points without error, with a stated uncertainty. */
export function exactPoints(dye: Dye, seconds: readonly number[], uL = 0.3): CurvePoint[] {
  return seconds.map((s) => {
    const L = trueLightness(dye, s);
    return { seconds: s, L, a: -0.05 * (dye.baseL - L), b: 4 - 0.5 * (dye.baseL - L), uL };
  });
}
