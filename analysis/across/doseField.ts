import { Matrix, pseudoInverse } from 'ml-matrix';

type Grid = readonly (readonly (number | null)[])[];

/** Dose over a sheet, in stops (log2), as read and as a smooth second-order field. */
export interface DoseField {
  readonly stops: Grid;
  readonly uStops: Grid;
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
 * What smooth field do the cells' doses lie on? Weighted least squares of the second order in x and y.
 *
 * @param stops log2 of dose per cell, rows from the top; null where not read. Nine cells or more are read.
 * @param uStops one standard uncertainty of each.
 */
export function fitDoseField(stops: Grid, uStops: Grid): DoseField {
  const [rows, columns] = [stops.length, stops[0].length];
  const powers = (row: number, column: number) => {
    const x = placeOf(column, columns);
    const y = placeOf(row, rows);
    return [1, x, y, x * x, x * y, y * y];
  };
  const design: number[][] = [];
  const values: number[] = [];
  stops.forEach((line, row) => {
    line.forEach((value, column) => {
      const u = uStops[row][column];
      if (value === null || u === null) return;
      design.push(powers(row, column).map((power) => power / u));
      values.push(value / u);
    });
  });
  const A = new Matrix(design);
  const normal = pseudoInverse(A.transpose().mmul(A));
  const coefficients = normal.mmul(A.transpose()).mmul(Matrix.columnVector(values)).to1DArray();
  const residuals = design.map((line, i) => values[i] - dot(line, coefficients));
  const freedom = Math.max(1, values.length - coefficients.length);
  const scatter = dot(residuals, residuals) / freedom;
  return {
    stops,
    uStops,
    fitted: stops.map((line, row) => line.map((_, column) => dot(powers(row, column), coefficients))),
    coefficients,
    coefficientU: coefficients.map((_, j) => Math.sqrt(Math.max(0, normal.get(j, j)) * Math.max(1, scatter))),
    scatter,
    smooth: scatter <= MOST_SCATTER,
  };
}

/** Place of a row or column from −1 to 1. */
function placeOf(index: number, count: number): number {
  return (2 * index) / (count - 1) - 1;
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * other[i], 0);
}
