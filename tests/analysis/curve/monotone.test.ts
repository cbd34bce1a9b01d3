import { describe, expect, it } from 'vitest';
import { misfitZ } from '../../../analysis/curve/misfit.ts';
import { fallingFit, monotoneShape, monotoneSlopes } from '../../../analysis/curve/monotone.ts';
import { shapeExposure, shapeLightness } from '../../../analysis/curve/shape.ts';

describe('isotonic fit', () => {
  // Source: scipy.optimize.isotonic_regression (scipy 1.17.1), run when this was written.
  it('pools 3, 4, 4.5 to 3.625 and 1, 2 to 1.25 with weights 2, 1, 1 and 3, 1', () => {
    expect(fallingFit([5, 3, 4, 4.5, 1, 2, 0.5], [1, 2, 1, 1, 3, 1, 1])).toEqual([
      5, 3.625, 3.625, 3.625, 1.25, 1.25, 0.5,
    ]);
  });
});

describe('monotone cubic pieces', () => {
  const x = [0, 0.7, 1.1, 1.6, 2.2, 3];
  const L = [90, 84, 70, 52, 45, 43.5];

  // Source: scipy.interpolate.PchipInterpolator (scipy 1.17.1), run when this was written.
  it('have the slopes of PCHIP at six knots to 6 digits', () => {
    const slopes = [0, -14.574132, -35.474453, -17.899268, -3.345979, 0];
    monotoneSlopes(x, L).forEach((slope, i) => {
      expect(slope).toBeCloseTo(slopes[i], 5);
    });
  });

  it('have the values of PCHIP between the knots to 6 digits', () => {
    const shape = { model: 'monotone' as const, unitSeconds: 10, x, L, slopes: monotoneSlopes(x, L) };
    const values = [88.709237, 78.045016, 57.921974, 46.316712, 43.739345];
    [0.3, 0.9, 1.4, 2.0, 2.7].forEach((at, i) => {
      expect(shapeLightness(shape, 10 * Math.expm1(at))).toBeCloseTo(values[i], 5);
    });
  });

  it('stay level at 90 where two knots are level, and pass 75 half way down to 60', () => {
    const level = [90, 90, 60, 60];
    const shape = {
      model: 'monotone' as const,
      unitSeconds: 1,
      x: [0, 1, 2, 3.5],
      L: level,
      slopes: monotoneSlopes([0, 1, 2, 3.5], level),
    };
    expect(shapeLightness(shape, Math.expm1(0.5))).toBe(90);
    expect(shapeLightness(shape, Math.expm1(1.5))).toBeCloseTo(75, 9);
  });

  it('read back the exposure that they were evaluated at, to a millionth', () => {
    const shape = monotoneShape([0, 20, 40, 80, 160, 320], [91, 80, 66, 50, 41, 38], [1, 1, 1, 1, 1, 1]);
    for (const seconds of [5, 30, 61, 200, 300]) {
      expect(shapeExposure(shape, shapeLightness(shape, seconds))! / seconds).toBeCloseTo(1, 6);
    }
  });

  it('count two steps of 40 s as one, at their mean of 66', () => {
    const shape = monotoneShape([0, 40, 40, 80], [90, 64, 68, 50], [1, 1, 1, 1]);
    expect(shape.L).toEqual([90, 66, 50]);
  });
});

describe('misfit', () => {
  // Source: scipy.stats.chi2.ppf(norm.cdf(z), k) (scipy 1.17.1), run when this was written.
  it.each([
    [2, 1.3863, 0],
    [2, 7.5664, 2],
    [3, 5.1863, 1],
    [5, 16.9164, 2.6],
    [10, 20.7707, 2],
    [1, 5.1875, 2],
  ])('with %d degrees of freedom and chi-squared %d is %d standard deviations, to 0.1', (dof, chi2, z) => {
    expect(Math.abs(misfitZ(chi2, dof) - z)).toBeLessThan(0.1);
  });

  it('is 0 where no degree of freedom is left', () => {
    expect(misfitZ(50, 0)).toBe(0);
  });
});
