import { describe, expect, test } from 'vitest';
import { fitDoseField, uOfSum } from '../../../analysis/across/doseField.ts';
import { normals } from './noise.ts';

const ROWS = 4;
const COLUMNS = 5;
const places = Array.from(
  { length: ROWS * COLUMNS },
  (_, k) => [Math.floor(k / COLUMNS), k % COLUMNS] as const,
);
const gridOf = (value: (row: number, column: number) => number) =>
  Array.from({ length: ROWS }, (_, r) => Array.from({ length: COLUMNS }, (_, c) => value(r, c)));
const x = (column: number) => (2 * column) / (COLUMNS - 1) - 1;
const u = gridOf((r, c) => 0.05 + 0.01 * ((r + c) % 3));

describe('a dose field from cells whose errors hang together', () => {
  const normal = normals(3);
  const stops = gridOf((_, c) => 0.2 * x(c) + 0.05 * normal());

  test('is the weighted one where the covariance is diagonal, to 1e-9', () => {
    const weighted = fitDoseField(stops, u);
    const generalised = fitDoseField(stops, u, {
      places,
      stops: places.map(([r, c], i) => places.map((_, j) => (i === j ? u[r][c] ** 2 : 0))),
    });
    generalised.coefficients.forEach((value, j) => {
      expect(value).toBeCloseTo(weighted.coefficients[j], 9);
    });
    expect(generalised.scatter).toBeCloseTo(weighted.scatter, 9);
  });

  // A shared tilt of standard deviation t adds t·x_i·t·x_j to the covariance, and just t² to the variance of the slope.
  test('leaves a tilt that all cells may share open: u of the slope grows from a to √(a² + 0.3²)', () => {
    const own = fitDoseField(stops, u);
    const tilted = fitDoseField(stops, u, {
      places,
      stops: places.map(([r, c], i) =>
        places.map(([, d], j) => 0.3 ** 2 * x(c) * x(d) + (i === j ? u[r][c] ** 2 : 0)),
      ),
    });
    const widened = Math.max(1, own.scatter);
    const a = own.coefficientU[1] / Math.sqrt(widened);
    expect(tilted.coefficientU[1] / Math.sqrt(Math.max(1, tilted.scatter))).toBeCloseTo(
      Math.hypot(a, 0.3),
      6,
    );
    expect(tilted.coefficientU[2]).toBeCloseTo(own.coefficientU[2], 6);
    expect(tilted.coefficients[1]).toBeCloseTo(own.coefficients[1], 6);
  });
});

// Var(a − b) = 1 + 4 − 2·1.5.
test('the difference of two numbers with variances 1 and 4 and covariance 1.5 has u = √2', () => {
  expect(
    uOfSum(
      [
        [1, 1.5],
        [1.5, 4],
      ],
      [1, -1],
    ),
  ).toBeCloseTo(Math.SQRT2, 12);
});
