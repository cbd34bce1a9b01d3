import { describe, expect, it } from 'vitest';
import { advise } from '../../../analysis/advice/advise.ts';
import { parseTarget } from '../../../analysis/advice/target.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { lightnessAt } from '../../../analysis/curve/evaluate.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { Dice, type Dye, exactPoints, readTrueStrip, trueSeconds } from '../curve/trueStrips.ts';

const INDIGO: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
const SEVEN = [0, 15, 30, 60, 120, 240, 480, 960];

const adviceFor = (seconds: readonly number[], target: string, options = {}) =>
  advise(fitCurve(exactPoints(INDIGO, seconds)), parseTarget(target), options);
const stops = (one: number, other: number) => Math.log2(one / other);

describe('a target inside the strip', () => {
  const advice = adviceFor(SEVEN, 'L=45');

  it('L* 45 is advised within 0.02 stop of the true 65 s', () => {
    expect(Math.round(trueSeconds(INDIGO, 45))).toBe(65);
    expect(advice.status).toBe('inside');
    expect(Math.abs(stops(advice.seconds!, trueSeconds(INDIGO, 45)))).toBeLessThan(0.02);
  });

  it('has an interval that holds the truth and is narrower than a third of a stop', () => {
    expect(advice.low!).toBeLessThan(trueSeconds(INDIGO, 45));
    expect(advice.high!).toBeGreaterThan(trueSeconds(INDIGO, 45));
    expect(advice.widthStops!).toBeCloseTo(stops(advice.high!, advice.low!), 9);
    expect(advice.widthStops!).toBeLessThan(1 / 3);
    expect(advice.nextStrip).toBeNull();
  });

  it('says the time as mm:ss, the lightness, the depth and the interval in one go', () => {
    expect(advice.sentence).toMatch(
      /^Expose for 01:0\d to get L\* 45: that gives L\* 4[45]\.\d, 7[23] % depth\. Nine times in ten the right time lies between 0[01]:\d\d and 01:\d\d\.$/,
    );
  });

  it('depth 80 % and full depth lie within 0.05 stop of the true times', () => {
    const depth = adviceFor(SEVEN, 'depth=80%');
    expect(Math.abs(stops(depth.seconds!, trueSeconds(INDIGO, 91 - 0.8 * 63)))).toBeLessThan(0.05);
    const full = adviceFor(SEVEN, 'full');
    expect(Math.abs(stops(full.seconds!, trueSeconds(INDIGO, 29)))).toBeLessThan(0.05);
  });

  it('a swatch on the curve is timed like its L*, and how near it gets is said', () => {
    const swatch = adviceFor(SEVEN, 'swatch=45,-2.3,-19');
    expect(swatch.swatchDeltaE!).toBeLessThan(0.5);
    expect(Math.abs(stops(swatch.seconds!, trueSeconds(INDIGO, 45)))).toBeLessThan(0.1);
    expect(swatch.sentence).toMatch(/stays ΔE00 0\.\d away at best/);
  });
});

describe('rounding', () => {
  it('is to 1 s below 2 min, 5 s below 10 min and 15 s above, and says the depth there', () => {
    expect(adviceFor(SEVEN, 'L=45').roundedSeconds! % 1).toBe(0);
    const middle = adviceFor(SEVEN, 'L=36');
    expect(middle.seconds!).toBeGreaterThan(120);
    expect(middle.roundedSeconds! % 5).toBe(0);
    const long = adviceFor(SEVEN, 'L=28.3');
    expect(long.seconds!).toBeGreaterThan(600);
    expect(long.roundedSeconds! % 15).toBe(0);
    const outcome = fitCurve(exactPoints(INDIGO, SEVEN));
    if (outcome.kind !== 'fitted') throw new Error(outcome.message);
    expect(long.roundedL).toBe(lightnessAt(outcome.curve, long.roundedSeconds!));
  });

  it('follows a timer of 30 s steps, and never gives 0', () => {
    expect(adviceFor(SEVEN, 'L=45', { timerStepSeconds: 30 }).roundedSeconds).toBe(60);
    expect(adviceFor(SEVEN, 'L=85', { timerStepSeconds: 30 }).roundedSeconds).toBe(30);
  });
});

describe('a target beyond the strip', () => {
  it('by less than a stop gets a time, status beyond, and the next strip', () => {
    const advice = adviceFor([0, 6, 12, 24, 48], 'L=45');
    expect(advice.status).toBe('beyond');
    expect(Math.abs(stops(advice.seconds!, trueSeconds(INDIGO, 45)))).toBeLessThan(0.25);
    expect(advice.high!).toBeLessThanOrEqual(96);
    expect(Math.max(...advice.nextStrip!.seconds)).toBeGreaterThan(65);
    expect(advice.sentence).toMatch(/The strip ends at 00:48.*no step has tested/);
  });

  it('by more than a stop gets no time, only the next strip', () => {
    const advice = adviceFor([0, 4, 8, 15, 30], 'L=36');
    expect(advice.status).toBe('beyond');
    expect([advice.seconds, advice.low, advice.high, advice.roundedSeconds]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect(advice.nextStrip!.seconds[0]).toBe(0);
    expect(advice.sentence).toMatch(/more than a stop away from any step/);
  });

  it('shorter than the shortest step, with a base, is inside but flagged', () => {
    const advice = adviceFor([0, 60, 120, 240, 480, 960], 'L=72');
    expect(advice.status).toBe('inside');
    expect(advice.seconds!).toBeLessThan(60);
    expect(advice.sentence).toMatch(/shorter than the shortest step, 01:00/);
  });

  it('shorter than half the shortest step, without a base, gets no time', () => {
    const advice = adviceFor([120, 240, 480, 960], 'L=75');
    expect(advice.status).toBe('beyond');
    expect(advice.seconds).toBeNull();
    expect(advice.nextStrip!.seconds[1]).toBeLessThan(120);
  });
});

describe('a target that cannot be', () => {
  it('L* 20 on a dye that goes to 28 is unattainable, and says how deep it goes', () => {
    const advice = adviceFor(SEVEN, 'L=20');
    expect(advice.status).toBe('unattainable');
    expect(advice.seconds).toBeNull();
    expect(advice.sentence).toMatch(/its deepest is L\* 2[78]\.\d/);
  });

  it('L* 96 is lighter than the unexposed cloth', () => {
    const advice = adviceFor(SEVEN, 'L=96');
    expect(advice.status).toBe('unattainable');
    expect(advice.sentence).toMatch(/lighter than the unexposed cloth, L\* 9[01]\.\d/);
  });

  it('100 % is never quite reached, and the answer points to full', () => {
    const advice = adviceFor(SEVEN, 'depth=100%');
    expect(advice.status).toBe('unattainable');
    expect(advice.sentence).toMatch(/ask for "full"/);
  });

  it('L* 20 on a strip that has seen no plateau is not called unattainable', () => {
    expect(adviceFor([0, 15, 25, 40, 60], 'L=20').status).toBe('beyond');
  });
});

describe('no curve', () => {
  it('one step gives too-few-steps with steps a stop apart around it', () => {
    const advice = adviceFor([0, 80], 'L=45');
    expect(advice.status).toBe('too-few-steps');
    expect(advice.seconds).toBeNull();
    expect(advice.nextStrip!.seconds).toEqual([0, 10, 20, 40, 80, 160, 320]);
  });

  it('a blank strip gives too-few-steps and the light source as first suspect', () => {
    const blank = [0, 60, 120].map((seconds) => ({ seconds, L: 90, a: 0, b: 4, uL: 0.4 }));
    const advice = advise(fitCurve(blank), { kind: 'full' });
    expect(advice.status).toBe('too-few-steps');
    expect(advice.sentence).toMatch(/light source first/);
    expect(advice.nextStrip!.seconds.slice(0, 3)).toEqual([0, 120, 240]);
  });

  it('another number of steps than times gives no time and no next strip, and says to count', () => {
    const message = 'The photo seems to show more steps than the 6 that have a time: count them.';
    const advice = advise({ kind: 'count-differs', message, points: [] }, { kind: 'full' });
    expect(advice).toMatchObject({
      status: 'count-differs',
      seconds: null,
      nextStrip: null,
      sentence: message,
    });
  });

  it('no steps at all give too-few-steps and nothing to try', () => {
    expect(advise(fitCurve([]), { kind: 'full' }).nextStrip).toBeNull();
  });
});

describe('the interval', () => {
  const noise = { single: 0.4, shift: 0.5, tilt: 0.2 };
  const strip = readTrueStrip(new Dice(3), INDIGO, SEVEN, noise);
  const outcome = fitCurve(strip.points, { covarianceL: strip.covarianceL });
  if (outcome.kind !== 'fitted') throw new Error(outcome.message);

  it('is the same for the same seed and differs for another', () => {
    const one = advise(outcome, parseTarget('L=45'), { seed: 7 });
    expect(advise(outcome, parseTarget('L=45'), { seed: 7 })).toEqual(one);
    expect(advise(outcome, parseTarget('L=45'), { seed: 8 }).low).not.toBe(one.low);
  });

  it('comes from a set of curves made once for all targets', () => {
    const bootstrap = bootstrapCurve(outcome.curve, { seed: 7 });
    for (const target of ['L=45', 'L=60', 'depth=50%', 'full'].map(parseTarget)) {
      expect(advise(outcome, target, { bootstrap })).toEqual(advise(outcome, target, { seed: 7 }));
    }
  });

  // 0.64 L* shared and single error over a slope of about 9.5 L* per stop is 0.07 stop, 0.22 stop in 90 %.
  it('is about as wide as the errors over the slope: between 0.1 and 0.35 stop at L* 45', () => {
    const { widthStops } = advise(outcome, parseTarget('L=45'));
    expect(widthStops!).toBeGreaterThan(0.1);
    expect(widthStops!).toBeLessThan(0.35);
  });

  it('widens with a timer that is off by up to 10 s', () => {
    const points = exactPoints(INDIGO, SEVEN);
    const sharp = advise(fitCurve(points, { timer: { seconds: 0, share: 0 } }), parseTarget('L=60'));
    const blunt = advise(fitCurve(points, { timer: { seconds: 10, share: 0 } }), parseTarget('L=60'));
    expect(blunt.widthStops!).toBeGreaterThan(1.5 * sharp.widthStops!);
  });

  it('ends at one stop beyond the longest step and says that it is open', () => {
    const advice = adviceFor([0, 8, 15, 30, 60, 120], 'full');
    if (advice.seconds !== null) expect(advice.high!).toBeLessThanOrEqual(240);
    expect(advice.seconds === null || advice.highOpen).toBe(true);
  });
});
