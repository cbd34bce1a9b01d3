import { Matrix, solve } from 'ml-matrix';
import type { ColourPath } from './curve.ts';

/** Different depths that a polynomial of each degree needs, so that it follows the cloth and not the noise. */
const pointsForQuadratic = 4;
const pointsForCubic = 7;

/**
 * How do a* and b* go with depth? Least-squares polynomials in depth (0 at the base, 1 at the deepest), of the third
 * degree at most. `depths`: of the points, by the fitted curve.
 */
export function colourPath(
  depths: readonly number[],
  a: readonly number[],
  b: readonly number[],
): ColourPath {
  const different = new Set(depths.map((depth) => Math.round(depth * 50))).size;
  const degree =
    different >= pointsForCubic ? 3 : different >= pointsForQuadratic ? 2 : Math.min(1, different - 1);
  const powers = depths.map((depth) => Array.from({ length: degree + 1 }, (_, k) => depth ** k));
  const fitted = solve(new Matrix(powers), new Matrix(a.map((value, i) => [value, b[i]])), true);
  return {
    a: fitted.getColumn(0),
    b: fitted.getColumn(1),
    depthFrom: Math.min(...depths),
    depthTo: Math.max(...depths),
  };
}
