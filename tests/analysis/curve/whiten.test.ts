import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { inverseForm, rootOf, whiten, whitenerOf } from '../../../analysis/curve/whiten.ts';

const covariance = [
  [0.5, 0.2, 0.1],
  [0.2, 0.4, 0.15],
  [0.1, 0.15, 0.3],
];

describe('whitening', () => {
  // Source: ml-matrix's inverse as an independent implementation.
  it('gives wᵀw = vᵀ·C⁻¹·v to 12 digits', () => {
    const v = [1, -2, 0.5];
    const inverted = inverse(new Matrix(covariance));
    const form = Matrix.rowVector(v).mmul(inverted).mmul(Matrix.columnVector(v)).get(0, 0);
    const w = whiten(whitenerOf(covariance), v);
    expect(w.reduce((sum, value) => sum + value * value, 0)).toBeCloseTo(form, 12);
    expect(inverseForm(Float64Array.from(covariance.flat()), v)).toBeCloseTo(form, 12);
  });

  it('root times its transpose is the covariance again', () => {
    const root = rootOf(covariance);
    const at = (i: number, j: number) => root[i][j] ?? 0;
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const product = [0, 1, 2].reduce((sum, k) => sum + at(i, k) * at(j, k), 0);
        expect(product).toBeCloseTo(covariance[i][j], 12);
      }
  });

  it('stands one error shared by all three, which leaves no independent part', () => {
    const shared = [0, 1, 2].map(() => [0.25, 0.25, 0.25]);
    expect(whiten(whitenerOf(shared), [1, 1, 1]).every(Number.isFinite)).toBe(true);
  });

  it('has no form where the matrix is not positive definite', () => {
    expect(inverseForm(Float64Array.of(1, 2, 2, 1), [1, 0])).toBe(Number.POSITIVE_INFINITY);
  });
});
