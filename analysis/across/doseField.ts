import { Matrix, pseudoInverse } from 'ml-matrix';
import { whiten, whitenerOf } from '../curve/whiten.ts';

type Grid = readonly (readonly (number | null)[])[];

/** How errors of cells hang together: present cells only, in the order of `places`. */
export interface CellCovariance {
  readonly places: readonly (readonly [row: number, column: number])[];
  /** Of the doses, in stops. */
  readonly stops: readonly (readonly number[])[];
}

/** Dose over a sheet, in stops (log2), as read and as a smooth second-order field. */
export interface DoseField {
  readonly stops: Grid;
  readonly uStops: Grid;
  /** Null where every cell errs by itself. */
  readonly together: CellCovariance | null;
  /** Covariance of what the cells keep beside the smooth field, in the order of `together`; null with it. */
  readonly residual: readonly (readonly number[])[] | null;
  /** The field at every cell, whether read or not. */
  readonly fitted: readonly (readonly number[])[];
  /** Coefficients of 1, x, y, x², xy, y²; x from −1 (left) to 1, y from −1 (top) to 1. */
  readonly coefficients: readonly number[];
  /** Standard uncertainties of the coefficients, widened where cells scatter more than their own uncertainty. */
  readonly coefficientU: readonly number[];
  /** Sum of squared residuals in units of u, over the degrees of freedom. */
  readonly scatter: number;
  /** True where the smooth field explains the cells within their uncertainty. */
  readonly smooth: boolean;
}

/** Reduced scatter above which single cells hold more than the smooth field does. Common practice, no source. */
const MOST_SCATTER = 2;

/**
 * What smooth field do the cells' doses lie on? Least squares of the second order in x and y, weighted by the cells'
 * uncertainty, or generalised by their covariance where their errors hang together.
 *
 * @param stops log2 of dose per cell, rows from the top; null where not read. Nine cells or more are read.
 * @param uStops one standard uncertainty of each.
 */
export function fitDoseField(stops: Grid, uStops: Grid, together: CellCovariance | null = null): DoseField {
  const [rows, columns] = [stops.length, stops[0].length];
  const powers = (row: number, column: number) => {
    const x = placeOf(column, columns);
    const y = placeOf(row, rows);
    return [1, x, y, x * x, x * y, y * y];
  };
  const raw: number[][] = [];
  const value: number[] = [];
  const u: number[] = [];
  stops.forEach((line, row) => {
    line.forEach((stop, column) => {
      const own = uStops[row][column];
      if (stop === null || own === null) return;
      raw.push(powers(row, column));
      value.push(stop);
      u.push(own);
    });
  });
  const W = together && whitenerOf(together.stops);
  const whitened = (column: readonly number[]) => (W ? whiten(W, column) : column.map((v, i) => v / u[i]));
  const design = transposed(raw[0].map((_, j) => whitened(raw.map((line) => line[j]))));
  const values = whitened(value);
  const A = new Matrix(design);
  const normal = pseudoInverse(A.transpose().mmul(A));
  const coefficients = normal.mmul(A.transpose()).mmul(Matrix.columnVector(values)).to1DArray();
  const residuals = design.map((line, i) => values[i] - dot(line, coefficients));
  const freedom = Math.max(1, values.length - coefficients.length);
  const scatter = dot(residuals, residuals) / freedom;
  return {
    stops,
    uStops,
    together,
    residual: together && residualCovariance(together.stops, raw, normal),
    fitted: stops.map((line, row) => line.map((_, column) => dot(powers(row, column), coefficients))),
    coefficients,
    coefficientU: coefficients.map((_, j) => Math.sqrt(Math.max(0, normal.get(j, j)) * Math.max(1, scatter))),
    scatter,
    smooth: scatter <= MOST_SCATTER,
  };
}

/** C − X·N·Xᵀ: what a generalised fit leaves of the cells' covariance. */
function residualCovariance(
  covariance: readonly (readonly number[])[],
  raw: readonly (readonly number[])[],
  normal: Matrix,
): number[][] {
  const X = new Matrix(raw.map((line) => [...line]));
  return new Matrix(covariance.map((row) => [...row])).sub(X.mmul(normal).mmul(X.transpose())).to2DArray();
}

/** Standard uncertainty of a weighted sum of cells whose errors hang together. `weights` in the order of the matrix. */
export function uOfSum(covariance: readonly (readonly number[])[], weights: readonly number[]): number {
  let variance = 0;
  for (let i = 0; i < weights.length; i++)
    if (weights[i] !== 0)
      for (let j = 0; j < weights.length; j++) variance += weights[i] * weights[j] * covariance[i][j];
  return Math.sqrt(Math.max(0, variance));
}

function transposed(columns: readonly (readonly number[])[]): number[][] {
  return columns[0].map((_, i) => columns.map((column) => column[i]));
}

/** Place of a row or column from −1 to 1. */
function placeOf(index: number, count: number): number {
  return (2 * index) / (count - 1) - 1;
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * other[i], 0);
}
