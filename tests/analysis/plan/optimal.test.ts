import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  dOptimalExponential,
  dOptimalLogistic,
  exponentialEfficiency,
} from '../../../analysis/plan/optimal.ts';

const invalid = expect.objectContaining({ code: 'plan-invalid' });

/** |J'J| of a model's gradient over equally weighted places, by Gaussian elimination. */
function determinant(gradients: readonly (readonly number[])[]): number {
  const size = gradients[0].length;
  const m = Array.from({ length: size }, (_, r) =>
    Array.from({ length: size }, (_, c) => gradients.reduce((sum, g) => sum + g[r] * g[c], 0)),
  );
  let det = 1;
  for (let k = 0; k < size; k++) {
    const pivot = m
      .slice(k)
      .reduce((best, row, i) => (Math.abs(row[k]) > Math.abs(m[best][k]) ? k + i : best), k);
    if (pivot !== k) {
      [m[k], m[pivot]] = [m[pivot], m[k]];
      det = -det;
    }
    det *= m[k][k];
    if (m[k][k] === 0) return 0;
    for (let r = k + 1; r < size; r++) {
      const f = m[r][k] / m[k][k];
      for (let c = k; c < size; c++) m[r][c] -= f * m[k][c];
    }
  }
  return det;
}

describe('D-optimal places of an exponential', () => {
  // Computed table: X = 2: 0.687; 3: 0.843; 4: 0.925; 5: 0.966; 8: 0.997 (constant error).
  test.each([
    [2, 0.687],
    [3, 0.843],
    [4, 0.925],
    [5, 0.966],
    [8, 0.997],
  ])('for a longest exposure of %d τ the lower place is %d τ', (x, lower) => {
    expect(dOptimalExponential(x).lower).toBeCloseTo(lower, 3);
    expect(dOptimalExponential(x).upper).toBe(x);
  });

  test('no place on a fine grid beside the longest has a larger determinant', () => {
    const gradient = (u: number) => [1 - Math.exp(-u), u * Math.exp(-u)];
    for (const x of [0.5, 1, 2.5, 6]) {
      const best = dOptimalExponential(x);
      const top = determinant([gradient(best.lower), gradient(x)]);
      for (let i = 1; i < 2000; i++) {
        expect(determinant([gradient((i / 2000) * x), gradient(x)])).toBeLessThanOrEqual(top * (1 + 1e-12));
      }
    }
  });

  // Box & Lucas 1959, from memory: with one unknown the best exposure is u = 1; it is also the limit for a known plateau.
  test('tends to u = 1, 63.2 % of the maximum, as the longest exposure grows', () => {
    expect(dOptimalExponential(40).lower).toBeCloseTo(1, 12);
    expect(100 * -Math.expm1(-1)).toBeCloseTo(63.2, 1);
  });

  test('refuses a ratio of 0, a negative one and NaN', () => {
    for (const x of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => dOptimalExponential(x)).toThrowError(invalid);
    }
  });
});

describe('D-optimal places of a logistic', () => {
  // Computed: root of 1/z = 2 tanh(z/2) at 1.044 logits, depths 26.0 % and 74.0 %.
  test('the inner places are ±1.044 logits, 26.0 % and 74.0 % depth', () => {
    const design = dOptimalLogistic();
    expect(design.logit).toBeCloseTo(1.044, 3);
    expect(design.lowerDepthPercent).toBeCloseTo(26, 1);
    expect(design.upperDepthPercent).toBeCloseTo(74, 1);
  });

  test('no other pair of inner places on a grid has a larger determinant for four parameters', () => {
    // Gradient of base + range · s(z) with z = n·ln(E/E50): over base, range, location, slope, up to constant factors.
    const gradient = (z: number) => {
      const s = 1 / (1 + Math.exp(-z));
      return [1, s, s * (1 - s), z * s * (1 - s)];
    };
    const inner = (low: number, high: number) =>
      Math.abs(determinant([gradient(-40), gradient(low), gradient(high), gradient(40)]));
    const { logit } = dOptimalLogistic();
    const top = inner(-logit, logit);
    for (let low = -3; low < 3; low += 0.05) {
      for (let high = low + 0.05; high <= 3; high += 0.05)
        expect(inner(low, high)).toBeLessThanOrEqual(top * (1 + 1e-9));
    }
  });
});

describe('efficiency of a series for an exponential', () => {
  test('is 1 for the best two places, and 0 for one place repeated', () => {
    expect(exponentialEfficiency([0.843 * 100, 300], 100)).toBeCloseTo(1, 5);
    expect(exponentialEfficiency([100, 100], 100)).toBeCloseTo(0, 9);
  });

  test('lies between 0 and 1 for any series', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 50, noNaN: true }), { minLength: 1, maxLength: 10 }),
        (units) => {
          const efficiency = exponentialEfficiency(units, 1);
          expect(efficiency).toBeGreaterThanOrEqual(0);
          expect(efficiency).toBeLessThanOrEqual(1 + 1e-9);
        },
      ),
    );
  });

  test('refuses an empty series and a τ of 0', () => {
    expect(() => exponentialEfficiency([], 1)).toThrowError(invalid);
    expect(() => exponentialEfficiency([1], 0)).toThrowError(invalid);
  });
});
