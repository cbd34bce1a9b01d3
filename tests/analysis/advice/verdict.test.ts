import { describe, expect, it } from 'vitest';
import { type JudgedStep, judgeSteps } from '../../../analysis/advice/verdict.ts';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import type { CurvePoint } from '../../../analysis/curve/curve.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { type Dye, exactPoints, trueSeconds } from '../curve/trueStrips.ts';

const INDIGO: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };

function judged(points: readonly CurvePoint[], settings = {}) {
  const base = points.find((point) => point.seconds === 0);
  const steps: JudgedStep[] = points.map((point) => ({
    ...point,
    deltaEToBase: base ? deltaE00(base, point) : null,
  }));
  return judgeSteps(steps, fitCurve(points), settings);
}

describe('verdicts by the true curve of an indigo', () => {
  // Full depth, L* 29, is truly reached at 471 s; half a stop beyond that is 666 s.
  const times = [0, 0.05, 15, 60, 240, 440, 500, 630, 720, 1920];
  const results = judged(exactPoints(INDIGO, times));
  const verdict = (seconds: number) => results[times.indexOf(seconds)].verdict;

  it('the true time to full depth is 471 s', () => {
    expect(Math.round(trueSeconds(INDIGO, 29))).toBe(471);
  });

  it('the base and 0.05 s are washed out', () => {
    expect(verdict(0)).toBe('washed-out');
    expect(verdict(0.05)).toBe('washed-out');
  });

  it('15 to 440 s are building', () => {
    for (const seconds of [15, 60, 240, 440]) expect(verdict(seconds)).toBe('building');
  });

  it('500 and 630 s are at full depth, less than half a stop beyond 471 s', () => {
    expect(verdict(500)).toBe('full-depth');
    expect(verdict(630)).toBe('full-depth');
  });

  it('720 and 1920 s are overexposed', () => {
    expect(verdict(720)).toBe('overexposed');
    expect(verdict(1920)).toBe('overexposed');
  });

  it('each says why, with a number', () => {
    for (const { reason } of results) expect(reason).toMatch(/\d/);
    expect(results[times.indexOf(1920)].reason).toMatch(
      /Full depth is reached at 0[78]:\d\d, 2\.0 stops earlier/,
    );
  });
});

describe('thresholds', () => {
  const times = [0, 15, 60, 240, 480, 960];
  const points = exactPoints(INDIGO, times);

  it('of 10 % depth washes out a step at 8 % and not one at 12 %', () => {
    const at = (percent: number) => trueSeconds(INDIGO, 91 - 0.63 * percent);
    const results = judged(exactPoints(INDIGO, [0, at(8), at(12), 60, 240, 480, 960]));
    expect(results[1].verdict).toBe('washed-out');
    expect(results[1].reason).toMatch(/8 % of the depth/);
    expect(results[2].verdict).toBe('building');
  });

  it('can be set: 80 % depth washes out a step of 71 %', () => {
    expect(judged(points)[2].verdict).toBe('building');
    expect(judged(points, { leastDepthPercent: 80 })[2].verdict).toBe('washed-out');
  });

  it('can be set: within 6 L* of the deepest makes 240 s full depth', () => {
    expect(judged(points)[3].verdict).toBe('building');
    expect(judged(points, { fullWithinL: 6, overexposedStops: 3 })[3].verdict).toBe('full-depth');
  });

  it('of twice the uncertainty washes out ΔE00 of about 4 with u 2.5', () => {
    const pale = exactPoints(INDIGO, [0, 1, 60, 240, 960]).map((point) => ({ ...point, uL: 2.5 }));
    const [, first] = judged(pale);
    expect(first.verdict).toBe('washed-out');
    expect(first.reason).toMatch(/less than 2 times its uncertainty of 2\.5/);
  });
});

describe('verdicts without a whole strip', () => {
  it('a step that is lighter again after the deepest is overexposed', () => {
    const points = exactPoints(INDIGO, [0, 15, 60, 240, 480, 960, 1920]).map((point) =>
      point.seconds === 1920 ? { ...point, L: 34 } : point,
    );
    const results = judged(points);
    expect(results[6].verdict).toBe('overexposed');
    expect(results[6].reason).toMatch(/lighter again than the deepest/);
  });

  it('one step and a base: building where it comes away from the base, else washed out', () => {
    expect(judged(exactPoints(INDIGO, [0, 60])).map((one) => one.verdict)).toEqual([
      'washed-out',
      'building',
    ]);
    expect(judged(exactPoints(INDIGO, [0, 0.02])).map((one) => one.verdict)).toEqual([
      'washed-out',
      'washed-out',
    ]);
  });

  it('one step and no base: building, and the reason says what is missing', () => {
    const [only] = judged(exactPoints(INDIGO, [60]));
    expect(only.verdict).toBe('building');
    expect(only.reason).toMatch(/without a base/);
  });

  it('a strip without a base is judged by its curve', () => {
    const results = judged(exactPoints(INDIGO, [15, 60, 240, 420, 560, 1920]));
    expect(results.map((one) => one.verdict)).toEqual([
      'building',
      'building',
      'building',
      'building',
      'full-depth',
      'overexposed',
    ]);
  });

  it('no steps give no verdicts', () => {
    expect(judged([])).toEqual([]);
  });
});
