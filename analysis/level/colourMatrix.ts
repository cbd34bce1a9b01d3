import { Matrix, solve } from 'ml-matrix';
import { mean } from 'simple-statistics';
import { deltaE00 } from '../colour/difference.ts';
import { type Xyz, xyzToLab } from '../colour/lab.ts';
import { applyMatrix3, inverseMatrix3 } from '../colour/matrix3.ts';
import type { Rgb, RgbProfile } from '../photo/photo.ts';
import type { ColourCorrection } from './levelled.ts';

/** A colour patch: levelled reflectance in the file's primaries, and what it should be. */
export interface KnownColour {
  readonly name: string;
  readonly reflectance: Rgb;
  readonly xyz: Xyz;
}

const FEWEST = 12;
const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;

/**
 * The 3×3 that takes reflectances to the known ones best and leaves neutrals neutral: each row adds up to 1, so two
 * numbers a row are free. Least squares of relative errors, so that dark colours count.
 */
const fitMatrix = (known: readonly { readonly from: Rgb; readonly to: Rgb }[]): number[] =>
  ([0, 1, 2] as const).flatMap((row) => {
    const [one, other] = [0, 1, 2].filter((c) => c !== row);
    const design = known.map(({ from, to }) => {
      const weight = 1 / (0.05 + Math.abs(to[row]));
      return [weight * (from[one] - from[row]), weight * (from[other] - from[row])];
    });
    const right = known.map(({ from, to }) => (to[row] - from[row]) / (0.05 + Math.abs(to[row])));
    const [p, q] = solve(new Matrix(design), Matrix.columnVector(right), true).to1DArray();
    const line = [0, 0, 0];
    line[row] = 1 - p - q;
    line[one] = p;
    line[other] = q;
    return line;
  });

/**
 * Do this camera's channels see colours as the eye does, and would a 3×3 help? Fitted to the chart's colours, and
 * taken only where it lowers the mean ΔE00 with which the other colours predict one left out.
 *
 * @returns the matrix (row-major, on linear reflectance in the file's primaries) with both errors; null with fewer than
 *   twelve colours.
 */
export const fitColourMatrix = (
  colours: readonly KnownColour[],
  profile: RgbProfile,
): ColourCorrection | null => {
  if (colours.length < FEWEST) return null;
  const fromXyz = inverseMatrix3(profile.toXyz65);
  const pairs = colours.map((c) => ({ from: c.reflectance, to: applyMatrix3(fromXyz, c.xyz) }));
  const error = (matrix: readonly number[], i: number): number =>
    deltaE00(
      xyzToLab(applyMatrix3(profile.toXyz65, applyMatrix3(matrix, pairs[i].from))),
      xyzToLab(colours[i].xyz),
    );
  const withoutDeltaE = mean(pairs.map((_, i) => error(IDENTITY, i)));
  const leftOut = pairs.map((_, i) => error(fitMatrix(pairs.filter((_, j) => j !== i)), i));
  const withDeltaE = mean(leftOut);
  const applied = withDeltaE < withoutDeltaE;
  return { matrix: applied ? fitMatrix(pairs) : [...IDENTITY], applied, withoutDeltaE, withDeltaE };
};
