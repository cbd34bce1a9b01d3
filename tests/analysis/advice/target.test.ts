import { describe, expect, it } from 'vitest';
import { parseTarget, targetOnCurve } from '../../../analysis/advice/target.ts';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import { colourAt } from '../../../analysis/curve/evaluate.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { AnalysisError } from '../../../analysis/errors.ts';
import { type Dye, exactPoints } from '../curve/trueStrips.ts';

const INDIGO: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };

describe('a target in words', () => {
  it.each([
    ['L=45', { kind: 'L', L: 45 }],
    [' l* = 45.5 ', { kind: 'L', L: 45.5 }],
    ['depth=80%', { kind: 'depth', percent: 80 }],
    ['Depth = 80', { kind: 'depth', percent: 80 }],
    ['full', { kind: 'full' }],
    ['swatch=45,-3.2,-28', { kind: 'swatch', L: 45, a: -3.2, b: -28 }],
  ])('"%s" is read', (text, target) => {
    expect(parseTarget(text)).toEqual(target);
  });

  it.each([
    '',
    'L',
    'L=',
    'L=101',
    'L=-1',
    'L=45x',
    'depth=0%',
    'depth=120%',
    'depth=%',
    'swatch=45,2',
    'swatch=45,300,0',
    'deep',
    'L=1e999',
    '__proto__',
  ])('"%s" is refused as target-invalid, with how to write it', (text) => {
    expect(() => parseTarget(text)).toThrow(AnalysisError);
    try {
      parseTarget(text);
    } catch (error) {
      expect((error as AnalysisError).code).toBe('target-invalid');
      expect((error as AnalysisError).message).toMatch(/"L=45", "depth=80%", "full" or "swatch=/);
    }
  });
});

describe('a target on a curve', () => {
  const outcome = fitCurve(exactPoints(INDIGO, [0, 15, 30, 60, 120, 240, 480, 960]));
  if (outcome.kind !== 'fitted') throw new Error(outcome.message);
  const { curve } = outcome;

  it('full is 1 L* above the deepest; 80 % lies 0.8 of the way down', () => {
    expect(targetOnCurve(curve, { kind: 'full' }).L).toBeCloseTo(curve.deepestL + 1, 9);
    expect(targetOnCurve(curve, { kind: 'depth', percent: 80 }).L).toBeCloseTo(91 - 0.8 * 63, 0);
  });

  it('a swatch taken from the curve at 100 s is matched within ΔE00 0.05 and 0.1 L*', () => {
    const swatch = colourAt(curve, 100);
    const { L, deltaE } = targetOnCurve(curve, { kind: 'swatch', ...swatch });
    expect(deltaE!).toBeLessThan(0.05);
    expect(Math.abs(L - swatch.L)).toBeLessThan(0.1);
  });

  it('a swatch off the curve is matched no worse than at any of 400 exposures', () => {
    const swatch = { L: 52, a: 6, b: -10 };
    const { deltaE } = targetOnCurve(curve, { kind: 'swatch', ...swatch });
    const nearest = Math.min(
      ...Array.from({ length: 400 }, (_, i) => deltaE00(colourAt(curve, 2 * 1.0157 ** i), swatch)),
    );
    expect(deltaE!).toBeGreaterThan(1);
    expect(deltaE!).toBeLessThan(nearest + 0.02);
  });
});
