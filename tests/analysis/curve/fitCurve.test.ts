import { describe, expect, it } from 'vitest';
import type { BuildUpShape, Curve, CurvePoint } from '../../../analysis/curve/curve.ts';
import { colourAt, depthPercent, exposureFor, lightnessAt } from '../../../analysis/curve/evaluate.ts';
import { delayedBuildUp, families, familiesFor } from '../../../analysis/curve/families.ts';
import { type FitOptions, fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { fitStrips } from '../../../analysis/curve/fitStrips.ts';
import { shapeExposure, shapeLightness } from '../../../analysis/curve/shape.ts';
import { AnalysisError } from '../../../analysis/errors.ts';
import { Dice, type Dye, exactPoints, readTrueStrip, trueLightness, trueSeconds } from './trueStrips.ts';

const INDIGO: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
const HILL: Dye = { law: 'steep hill', over: 'L*', baseL: 90, deepestL: 40, scaleSeconds: 120 };
const SEVEN = [0, 15, 30, 60, 120, 240, 480, 960];

function fitted(points: readonly CurvePoint[], options?: FitOptions): Curve {
  const outcome = fitCurve(points, options);
  if (outcome.kind !== 'fitted') throw new Error(outcome.message);
  return outcome.curve;
}

const stopsBetween = (one: number, other: number) => Math.abs(Math.log2(one / other));

describe('the build-up model', () => {
  const curve = fitted(exactPoints(INDIGO, SEVEN));

  // Source: Kubelka and Munk; the base and the deepest of the true dye.
  it('finds tau 180 s to 1 %, p = 1 to 0.02, base 91 and deepest 28 to 0.2 L* without noise', () => {
    expect(curve.model).toBe('build-up');
    expect(curve.parameters.tauSeconds.value / 180).toBeCloseTo(1, 2);
    expect(Math.abs(curve.parameters.p.value - 1)).toBeLessThan(0.02);
    expect(Math.abs(curve.baseL - 91)).toBeLessThan(0.2);
    expect(Math.abs(curve.deepestL - 28)).toBeLessThan(0.2);
    expect(curve.parameters.tauSeconds.unit).toBe('s');
    expect(curve.reversed).toBe(false);
  });

  it('says why it was chosen, with both AICc, and that the logistic is the runner-up or out', () => {
    expect(curve.reason).toMatch(/build-up model is taken: AICc \d+\.\d against \d+\.\d for the logistic/);
    expect([null, 'logistic']).toContain(curve.runnerUp);
  });

  it('has its landmarks within 0.05 stop of the true 90 % and full depth', () => {
    expect(stopsBetween(curve.secondsTo90!, trueSeconds(INDIGO, 91 - 0.9 * 63))).toBeLessThan(0.05);
    expect(stopsBetween(curve.secondsToFull!, trueSeconds(INDIGO, 29))).toBeLessThan(0.05);
    const scale = Math.log2(trueSeconds(INDIGO, 91 - 0.9 * 63) / trueSeconds(INDIGO, 91 - 0.1 * 63));
    expect(Math.abs(curve.exposureScaleStops! - scale)).toBeLessThan(0.1);
  });

  it('has its straight part from toe to shoulder around the middle of the curve', () => {
    const { fromSeconds, toSeconds } = curve.straight!;
    expect(fromSeconds).toBeLessThan(trueSeconds(INDIGO, 91 - 0.5 * 63));
    expect(toSeconds).toBeGreaterThan(trueSeconds(INDIGO, 91 - 0.6 * 63));
    expect(toSeconds).toBeLessThan(curve.secondsToFull!);
  });
});

describe('the logistic model', () => {
  const curve = fitted(exactPoints(HILL, SEVEN));

  it('finds half depth at 120 s, n = 2 and both ends to 0.2 L* without noise', () => {
    expect(curve.model).toBe('logistic');
    expect(curve.parameters.halfSeconds.value / 120).toBeCloseTo(1, 2);
    expect(Math.abs(curve.parameters.n.value - 2)).toBeLessThan(0.05);
    expect(Math.abs(curve.baseL - 90)).toBeLessThan(0.2);
    expect(Math.abs(curve.deepestL - 40)).toBeLessThan(0.3);
  });

  // Source: of v = 1 / (1 + E^-n): 10 to 90 % spans 2·log2(9)/n stops; the slope at half depth is n·ln 2/4 per stop.
  it('spans 3.17 stops from 10 to 90 % and falls 17.3 L* per stop at half depth', () => {
    expect(curve.exposureScaleStops!).toBeCloseTo((2 * Math.log2(9)) / 2, 1);
    expect(Math.abs(curve.contrastLPerStop! - (50 * 2 * Math.LN2) / 4)).toBeLessThan(0.3);
  });

  // Source: 4·d·(1 − d) = 3/4 at d = 25 and 75 %.
  it('runs straight from 25 to 75 % depth', () => {
    expect(depthPercent(curve, lightnessAt(curve, curve.straight!.fromSeconds))).toBeCloseTo(25, -0.3);
    expect(depthPercent(curve, lightnessAt(curve, curve.straight!.toSeconds))).toBeCloseTo(75, -0.3);
  });
});

describe('the models’ own derivatives', () => {
  it('agree with central differences to a millionth of the largest', () => {
    const free = [-3.2, 1.5, Math.log(150), 0.2];
    const seconds = [0, 5, 40, 150, 600, 5000];
    for (const family of families) {
      const rows = family.sensitivity(free, seconds);
      free.forEach((value, j) => {
        const at = (by: number) =>
          family.lightness(
            free.map((v, k) => (k === j ? value + by : v)),
            seconds,
          );
        const [high, low] = [at(1e-5), at(-1e-5)];
        seconds.forEach((_, i) => {
          expect(Math.abs(rows[i][j] - (high[i] - low[i]) / 2e-5)).toBeLessThan(2e-5);
        });
      });
    }
  });
});

describe('a toe', () => {
  // Nothing forms before a tenth of the scale, then first order: a law that no model has.
  const dye: Dye = { law: 'threshold', over: 'K/S', baseL: 88, deepestL: 32, scaleSeconds: 300 };

  it.each([
    [
      'as an inhibitor leaves it, eight steps up to the plateau',
      0.15,
      [0, 20, 40, 80, 160, 320, 640, 1280, 2560],
    ],
    ['seen by five steps that stop short of the plateau', 0.25, [0, 40, 100, 250, 500, 900]],
  ])('%s: full depth within %d stop', (_, within, seconds) => {
    const curve = fitted(exactPoints(dye, seconds));
    const truth = trueSeconds(dye, 33);
    expect(stopsBetween(exposureFor(curve, curve.deepestL + 1)!, truth)).toBeLessThan(within);
  });

  it('is looked for only where four exposed steps can show it', () => {
    expect(familiesFor([0, 60, 120, 240])).not.toContain(delayedBuildUp);
    expect(familiesFor([0, 60, 120, 240, 480])).toContain(delayedBuildUp);
  });

  it('gives back the exposure it was evaluated at, to a millionth', () => {
    const shape = delayedBuildUp.shape([-3.2, 1.5, Math.log(150), Math.log(0.4)]);
    for (const seconds of [0.5, 5, 60, 400])
      expect(shapeExposure(shape, shapeLightness(shape, seconds))! / seconds).toBeCloseTo(1, 6);
    expect(delayedBuildUp.free(shape as BuildUpShape)[3]).toBeCloseTo(Math.log(0.4), 9);
  });
});

describe('reading the curve', () => {
  const curve = fitted(exactPoints(INDIGO, SEVEN));

  it('gives back the exposure it was evaluated at, to a millionth, for all kinds of curve', () => {
    for (const one of [curve, fitted(exactPoints(HILL, SEVEN))]) {
      for (const seconds of [2, 20, 100, 400]) {
        expect(exposureFor(one, lightnessAt(one, seconds))! / seconds).toBeCloseTo(1, 6);
      }
    }
  });

  it('has no exposure for what is lighter than the base or deeper than the deepest', () => {
    expect(exposureFor(curve, curve.baseL + 0.5)).toBeNull();
    expect(exposureFor(curve, curve.deepestL - 0.5)).toBeNull();
  });

  it('keeps depth within 0 and 100 %', () => {
    expect(depthPercent(curve, curve.baseL + 3)).toBe(0);
    expect(depthPercent(curve, curve.deepestL - 3)).toBe(100);
    expect(depthPercent(curve, (curve.baseL + curve.deepestL) / 2)).toBeCloseTo(50, 9);
  });

  it('follows a* and b* to 0.3 at steps and between them', () => {
    for (const seconds of [0, 45, 120, 700]) {
      const L = trueLightness(INDIGO, seconds);
      const colour = colourAt(curve, seconds);
      expect(Math.abs(colour.a + 0.05 * (91 - L))).toBeLessThan(0.3);
      expect(Math.abs(colour.b - (4 - 0.5 * (91 - L)))).toBeLessThan(0.3);
    }
  });
});

describe('short strips', () => {
  it('two scraps and a base give a curve whose time to half depth is within a third of a stop', () => {
    const curve = fitted(exactPoints(INDIGO, [0, 60, 240]));
    const half = (91 + 28) / 2;
    expect(stopsBetween(exposureFor(curve, half)!, trueSeconds(INDIGO, half))).toBeLessThan(1 / 3);
    expect(curve.deepestU!).toBeGreaterThan(1);
  });

  it('one step and a base are too few, and the message says which to add', () => {
    const outcome = fitCurve(exactPoints(INDIGO, [0, 60]));
    expect(outcome.kind).toBe('too-few-steps');
    expect(outcome.kind !== 'fitted' && outcome.message).toMatch(/one exposed step.*30 s or 120 s/);
  });

  it('two exposed steps without a base are too few, in a whole sentence', () => {
    const outcome = fitCurve(exactPoints(INDIGO, [60, 120]));
    expect(outcome.kind !== 'fitted' && outcome.message).toContain('there are two exposed steps.');
  });

  it.each([[[]], [[0]], [[60]], [[60, 60, 60]], [[60, 120]], [[0, 60, 60]]])('%j are too few', (seconds) => {
    expect(fitCurve(exactPoints(INDIGO, seconds as number[])).kind).toBe('too-few-steps');
  });

  it('four steps on the straight part leave the deepest unknown, and say so', () => {
    const curve = fitted(exactPoints(INDIGO, [0, 15, 25, 40, 60]));
    expect(curve.deepestU!).toBeGreaterThan(2);
    expect(curve.remarks.join(' ')).toMatch(/known only to ±\d+ L\*: the strip does not reach a plateau/);
  });

  it('without a base the base is an estimate with a wide uncertainty, and says so', () => {
    const curve = fitted(exactPoints(INDIGO, SEVEN.slice(1)));
    expect(curve.baseSeen).toBe(false);
    expect(curve.baseU!).toBeGreaterThan(0.5);
    expect(curve.remarks[0]).toMatch(/no unexposed step/);
    expect(stopsBetween(exposureFor(curve, 50)!, trueSeconds(INDIGO, 50))).toBeLessThan(0.05);
  });
});

describe('a blank strip', () => {
  it('within 0.5 L* of the base says to check the light source first', () => {
    const outcome = fitCurve(
      [0, 60, 120, 240].map((seconds, i) => ({ seconds, L: 90 - 0.15 * i, a: 0, b: 4, uL: 0.4 })),
    );
    expect(outcome.kind).toBe('blank');
    expect(outcome.kind !== 'fitted' && outcome.message).toMatch(/Check the light source first/);
  });

  it('without a base may as well be all at full depth: it asks for an unexposed piece', () => {
    const outcome = fitCurve([60, 120, 240].map((seconds) => ({ seconds, L: 40, a: 0, b: 4, uL: 0.4 })));
    expect(outcome.kind).toBe('too-few-steps');
    expect(outcome.kind !== 'fitted' && outcome.message).toMatch(/unexposed piece/);
  });
});

describe('reversal', () => {
  const rising = exactPoints(INDIGO, SEVEN).map((point) =>
    point.seconds === 480 ? { ...point, L: 31 } : point.seconds === 960 ? { ...point, L: 36 } : point,
  );
  const full = exactPoints(INDIGO, [0, 15, 30, 60, 120, 240, 360, 480, 960]).map((point) =>
    point.seconds === 960 ? { ...point, L: point.L + 4 } : point,
  );

  it('of 5 L* beyond the shoulder is named with its first step and left out of the fit', () => {
    const curve = fitted(rising);
    expect(curve.reversed).toBe(true);
    expect(curve.reversedFromSeconds).toBe(960);
    expect(curve.used).not.toContain(7);
    expect(curve.longestSeconds).toBe(480);
    expect(curve.remarks.join(' ')).toMatch(/From 960 s on the steps get lighter again/);
  });

  it('does not pull the deepest up: it stays within 0.5 L* of 28', () => {
    const curve = fitted(full);
    expect(curve.reversed).toBe(true);
    expect(Math.abs(curve.deepestL - 28)).toBeLessThan(0.5);
  });

  it('is not called for a rise of 0.6 L* with u 0.3', () => {
    const flat = exactPoints(INDIGO, [...SEVEN, 1920]).map((point) =>
      point.seconds === 1920 ? { ...point, L: point.L + 0.6 } : point,
    );
    expect(fitted(flat).reversed).toBe(false);
  });
});

describe('points that fit neither model', () => {
  const staircase = [
    [0, 90],
    [10, 88],
    [20, 60],
    [40, 59.5],
    [80, 58.5],
    [160, 31.9],
    [320, 31.5],
    [640, 31],
  ].map(([seconds, L]) => ({ seconds, L, a: 0, b: 0, uL: 0.3 }));
  const curve = fitted(staircase);

  it('are interpolated: a staircase of 30 L* is followed to 0.3 L*', () => {
    expect(curve.model).toBe('monotone');
    for (const { seconds, L } of staircase)
      expect(Math.abs(lightnessAt(curve, seconds) - L)).toBeLessThan(0.3);
    expect(curve.reason).toMatch(/both models miss the points/);
  });

  it('have the mean of the plateau, 31.47, as their deepest, not the single deepest step', () => {
    expect(curve.deepestL).toBeCloseTo((31.9 + 31.5 + 31) / 3, 6);
  });
});

describe('uncertainty', () => {
  const dice = new Dice(5);
  const strip = readTrueStrip(dice, INDIGO, SEVEN, { single: 0.3, shift: 0.8, tilt: 0 });

  it('an error shared by all steps widens the base and the deepest to about its own 0.8 L*', () => {
    const curve = fitted(strip.points, { covarianceL: strip.covarianceL });
    expect(curve.baseU!).toBeGreaterThan(0.7);
    expect(curve.baseU!).toBeLessThan(1.1);
    expect(curve.deepestU!).toBeGreaterThan(0.7);
  });

  it('the same error leaves the time to half depth as sharp as without it, to 20 %', () => {
    const shared = fitted(strip.points, { covarianceL: strip.covarianceL });
    const alone = fitted(strip.points, {
      covarianceL: strip.covarianceL.map((row, i) => row.map((_, j) => (i === j ? 0.09 : 0))),
    });
    const ratio = shared.parameters.p.u! / alone.parameters.p.u!;
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(1.2);
  });

  it('steps that scatter by 2 L* with a stated 0.2 are found to: extra scatter above 1 L*', () => {
    const rough = exactPoints(INDIGO, [...SEVEN, 10, 20, 45, 90, 180, 360], 0.2).map((point, i) => ({
      ...point,
      L: point.L + 2 * dice.normal() * (i > 0 ? 1 : 0),
    }));
    expect(fitted(rough).extraScatterL).toBeGreaterThan(1);
    expect(fitted(exactPoints(INDIGO, SEVEN)).extraScatterL).toBeLessThan(0.3);
  });
});

describe('the order of the points', () => {
  it('makes no difference: shuffled points and covariance give the same curve', () => {
    const strip = readTrueStrip(new Dice(8), HILL, SEVEN, { single: 0.3, shift: 0.5, tilt: 0.3 });
    const order = [3, 0, 7, 1, 5, 2, 6, 4];
    const one = fitted(strip.points, { covarianceL: strip.covarianceL });
    const other = fitted(
      order.map((i) => strip.points[i]),
      { covarianceL: order.map((i) => order.map((j) => strip.covarianceL[i][j])) },
    );
    expect(other).toEqual(one);
  });

  it('two strips fitted together know half depth better than either: u(tau) falls by a quarter or more', () => {
    const dice = new Dice(21);
    const noise = { single: 0.4, shift: 0.5, tilt: 0.2 };
    const strips = [0, 1].map(() => readTrueStrip(dice, INDIGO, SEVEN, noise));
    const both = fitStrips(strips);
    const single = fitted(strips[0].points, { covarianceL: strips[0].covarianceL });
    if (both.kind !== 'fitted') throw new Error(both.message);
    expect(both.curve.used).toHaveLength(16);
    expect(both.curve.deepestU!).toBeLessThan(0.8 * single.deepestU!);
  });
});

describe('values that are no steps', () => {
  it.each([
    ['an L* that is no number', [{ seconds: 0, L: Number.NaN, a: 0, b: 0, uL: 0.3 }], undefined],
    ['a negative time', [{ seconds: -1, L: 50, a: 0, b: 0, uL: 0.3 }], undefined],
    ['a covariance of another size', [{ seconds: 0, L: 50, a: 0, b: 0, uL: 0.3 }], [[1, 0]]],
  ] as const)('%s is refused as strip-invalid', (_, points, covarianceL) => {
    const options = covarianceL ? { covarianceL } : {};
    expect(() => fitCurve(points, options)).toThrow(AnalysisError);
    expect(() => fitCurve(points, options)).toThrow(/not usable|covariance must hold/);
  });
});
