import { describe, expect, it } from 'vitest';
import { possibleCurves, widthAfter } from '../../../analysis/advice/possibleCurves.ts';
import { shapeExposure } from '../../../analysis/curve/shape.ts';
import { INDIGO, knownShape } from '../across/knownCurve.ts';
import { normals } from '../across/noise.ts';

/** Indigo of 2000 speeds: log2 of the half time normal about 120 s, standard deviation 0.5 stop. */
const SPREAD = 0.5;
const normal = normals(5);
const shapes = Array.from({ length: 2000 }, () =>
  knownShape({ ...INDIGO, halfSeconds: 120 * 2 ** (SPREAD * normal()) }),
);
const possible = possibleCurves(shapes, (shape) => shapeExposure(shape, 59) ?? Infinity, 1, 1e5);
const middle = 1000;
const WIDTH_90 = 2 * 1.6448536;

describe('the width of an interval after a strip yet to be made', () => {
  it('is the spread of the curves where the new step says nothing: 1.64 stops within 0.06', () => {
    const width = widthAfter(possible, [120], { single: [1e8], shared: 0 }, middle);
    expect(Math.abs(width - WIDTH_90 * SPREAD)).toBeLessThan(0.06);
  });

  // Normal with normal: 1/u² = 1/0.5² + (slope/uL)²; at half depth indigo falls 58·1.5·ln 2/4 = 15.08 L* per stop.
  it.each([
    ['3 L*', 3],
    ['6 L*', 6],
  ])('is the product of two normals after one step at half depth read with %s, within a tenth', (_, uL) => {
    const u = 1 / Math.sqrt(SPREAD ** -2 + (15.08 / uL) ** 2);
    const width = widthAfter(possible, [120], { single: [uL ** 2], shared: 0 }, middle);
    expect(Math.abs(width / (WIDTH_90 * u) - 1)).toBeLessThan(0.1);
  });

  it('does not shrink by four times the steps where all share one error, and halves where none do', () => {
    const steps = (single: number, shared: number, count: number) =>
      widthAfter(
        possible,
        new Array(count).fill(120),
        { single: new Array(count).fill(single), shared },
        middle,
      );
    expect(steps(0.01, 9, 4) / steps(0.01, 9, 1)).toBeGreaterThan(0.98);
    const own = steps(9, 0, 4) / steps(9, 0, 1);
    expect(own).toBeGreaterThan(0.45);
    expect(own).toBeLessThan(0.6);
  });
});
