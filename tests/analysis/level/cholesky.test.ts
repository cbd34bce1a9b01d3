import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { factorise, forward, solveBy } from '../../../analysis/level/cholesky.ts';
import { random } from '../../../fixtures/random.ts';

const rng = random(5, 1);
const n = 20;
const root = new Matrix(Array.from({ length: n }, () => Array.from({ length: n }, () => rng.normal())));
const matrix = root.mmul(root.transpose()).add(Matrix.eye(n));
const column = Array.from({ length: n }, () => rng.normal());

// Source: ml-matrix's Cholesky decomposition and determinant.
describe('the factor of a positive definite matrix of 20 × 20', () => {
  const factor = factorise(Float64Array.from(matrix.to1DArray()), n);
  const other = new CholeskyDecomposition(matrix);

  it('is ml-matrix’s, and so is its determinant', () => {
    const lower = other.lowerTriangularMatrix.to1DArray();
    factor.lower.forEach((v, i) => {
      expect(v).toBeCloseTo(lower[i], 10);
    });
    const logDeterminant = 2 * other.lowerTriangularMatrix.diagonal().reduce((s, v) => s + Math.log(v), 0);
    expect(factor.logDeterminant).toBeCloseTo(logDeterminant, 10);
  });

  it('solves as ml-matrix does', () => {
    const wanted = other.solve(Matrix.columnVector(column)).to1DArray();
    solveBy(factor, Float64Array.from(column)).forEach((v, i) => {
      expect(v).toBeCloseTo(wanted[i], 10);
    });
  });

  it('forward: products of two solved columns are those by the inverse', () => {
    const z = forward(factor, Float64Array.from(column));
    const wanted = other.solve(Matrix.columnVector(column)).to1DArray();
    expect(z.reduce((s, v) => s + v * v, 0)).toBeCloseTo(
      column.reduce((s, v, i) => s + v * wanted[i], 0),
      10,
    );
  });
});
