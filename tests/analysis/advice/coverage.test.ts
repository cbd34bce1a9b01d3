import { quantileSorted } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import type { Target } from '../../../analysis/advice/advice.ts';
import { advise } from '../../../analysis/advice/advise.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { fitStrips } from '../../../analysis/curve/fitStrips.ts';
import {
  Dice,
  type Dye,
  readTrueStrip,
  someDye,
  someTimes,
  trueLightness,
  trueSeconds,
} from '../curve/trueStrips.ts';

/*
 * Strips of eight true laws, most of them none that the fitter knows, over K/S or over L*; 5 to 8 steps of 1/2 to 1 stop;
 * single errors of 0.15 to 0.35 L*, and errors common to a strip of 0.1 to 0.5 L* (shift) and up to 0.4 L* (tilt).
 */

function someNoise(dice: Dice) {
  return { single: dice.between(0.15, 0.35), shift: dice.between(0.1, 0.5), tilt: dice.between(0, 0.4) };
}

interface Wanted {
  readonly target: Target;
  readonly trueSeconds: number;
}

/** An L* between the shortest and the longest step. */
function lightnessInside(dice: Dice, dye: Dye, times: readonly number[]): Wanted {
  const [from, to] = [times[1], times[times.length - 1]].map((s) => trueLightness(dye, s));
  const L = to + (from - to) * dice.between(0.05, 0.95);
  return { target: { kind: 'L', L }, trueSeconds: trueSeconds(dye, L) };
}

/** A depth between the shortest and the longest step, or null where the strip has none of 20 to 90 %. */
function depthInside(dice: Dice, dye: Dye, times: readonly number[]): Wanted | null {
  const percent = dice.between(20, 90);
  const seconds = trueSeconds(dye, dye.baseL - (percent / 100) * (dye.baseL - dye.deepestL));
  if (seconds < times[1] || seconds > times[times.length - 1]) return null;
  return { target: { kind: 'depth', percent }, trueSeconds: seconds };
}

function study(
  count: number,
  seed: number,
  choose: (dice: Dice, dye: Dye, times: readonly number[]) => Wanted | null,
) {
  const dice = new Dice(seed);
  const errors: number[] = [];
  const widths: number[] = [];
  let held = 0;
  while (errors.length < count) {
    const dye = someDye(dice);
    const times = someTimes(dice, dye, dice.pick([5, 6, 7, 8]));
    const wanted = choose(dice, dye, times);
    const strip = readTrueStrip(dice, dye, times, someNoise(dice));
    const outcome = fitCurve(strip.points, { covarianceL: strip.covarianceL });
    if (!wanted || outcome.kind !== 'fitted') continue;
    const bootstrap = bootstrapCurve(outcome.curve, { seed: errors.length, count: 160 });
    const advice = advise(outcome, wanted.target, { bootstrap });
    if (advice.seconds === null) continue;
    errors.push(Math.abs(Math.log2(advice.seconds / wanted.trueSeconds)));
    widths.push(advice.widthStops ?? Number.POSITIVE_INFINITY);
    const below = advice.highOpen || wanted.trueSeconds <= advice.high!;
    if (advice.low! <= wanted.trueSeconds && below) held++;
  }
  errors.sort((one, other) => one - other);
  widths.sort((one, other) => one - other);
  return {
    coverage: held / count,
    medianError: quantileSorted(errors, 0.5),
    p90Error: quantileSorted(errors, 0.9),
    medianWidth: quantileSorted(widths, 0.5),
  };
}

describe('an L* inside the strip, over 300 strips of eight laws', () => {
  const { coverage, medianError, p90Error, medianWidth } = study(300, 11, lightnessInside);

  it('the 90 % interval holds the true time in 86 to 94 %', () => {
    expect(coverage).toBeGreaterThanOrEqual(0.86);
    expect(coverage).toBeLessThanOrEqual(0.94);
  });

  it('half of the times are within 0.05 stop of the truth, nine tenths within 0.15 stop', () => {
    expect(medianError).toBeLessThan(0.05);
    expect(p90Error).toBeLessThan(0.15);
  });

  it('half of the intervals are narrower than a quarter of a stop', () => {
    expect(medianWidth).toBeLessThan(0.25);
  });
});

describe('a depth in percent inside the strip, over 150 strips of eight laws', () => {
  const { coverage, medianError } = study(150, 12, depthInside);

  it('the 90 % interval holds the true time in 84 to 96 %', () => {
    expect(coverage).toBeGreaterThanOrEqual(0.84);
    expect(coverage).toBeLessThanOrEqual(0.96);
  });

  it('half of the times are within 0.06 stop of the truth', () => {
    expect(medianError).toBeLessThan(0.06);
  });
});

describe('the next strip, over 60 first strips of 3 to 5 coarse steps', () => {
  const dice = new Dice(31);
  const before: number[] = [];
  const together: number[] = [];
  const widths: number[] = [];
  const expectedAlone: number[] = [];
  const widthsAlone: number[] = [];
  const expectedTogether: number[] = [];
  while (before.length < 60) {
    const dye = someDye(dice);
    const middle = dye.scaleSeconds * 2 ** dice.between(-2, 1);
    const steps = dice.pick([3, 4, 5]);
    const times = [
      0,
      ...Array.from({ length: steps }, (_, i) =>
        Math.max(1, Math.round(middle * 2 ** (1.5 * (i - (steps - 1) / 2)))),
      ),
    ];
    const percent = dice.between(40, 90);
    const truth = trueSeconds(dye, dye.baseL - (percent / 100) * (dye.baseL - dye.deepestL));
    const noise = { single: 0.3, shift: 0.2, tilt: 0 };
    const first = readTrueStrip(dice, dye, times, noise);
    const outcome = fitStrips([first]);
    if (outcome.kind !== 'fitted') continue;
    const target = { kind: 'depth' as const, percent };
    const options = (curve: typeof outcome.curve) => ({ bootstrap: bootstrapCurve(curve, { count: 120 }) });
    const advice = advise(outcome, target, options(outcome.curve));
    const next = advice.nextStrip;
    if (advice.seconds === null || !next || next.expectedWidthStops === null) continue;
    const second = readTrueStrip(dice, dye, next.seconds, noise);
    const alone = fitStrips([second]);
    const both = fitStrips([first, second]);
    if (alone.kind !== 'fitted' || both.kind !== 'fitted') continue;
    const adviceAlone = advise(alone, target, options(alone.curve));
    const adviceBoth = advise(both, target, options(both.curve));
    if (adviceAlone.widthStops === null || adviceBoth.widthStops === null) continue;
    before.push(Math.abs(Math.log2(advice.seconds / truth)));
    together.push(Math.abs(Math.log2(adviceBoth.seconds! / truth)));
    widths.push(adviceBoth.widthStops);
    widthsAlone.push(adviceAlone.widthStops);
    expectedAlone.push(next.expectedWidthStops);
    expectedTogether.push(next.expectedTogetherStops!);
  }
  const median = (values: readonly number[]) =>
    quantileSorted(
      [...values].sort((one, other) => one - other),
      0.5,
    );

  it('halves the median error or better, both strips fitted together', () => {
    expect(median(together)).toBeLessThan(0.5 * median(before));
  });

  it('is as wide as was expected: median widths alone and together within a third of those promised', () => {
    for (const [found, promised] of [
      [widthsAlone, expectedAlone],
      [widths, expectedTogether],
    ]) {
      expect(median(found) / median(promised)).toBeGreaterThan(2 / 3);
      expect(median(found) / median(promised)).toBeLessThan(4 / 3);
    }
  });
});
