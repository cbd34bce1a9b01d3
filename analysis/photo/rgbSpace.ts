import type { Xyz } from '../colour/lab.ts';
import { applyMatrix3, chainMatrix3, inverseMatrix3, type Matrix3 } from '../colour/matrix3.ts';

/** Chromaticities x, y of red, green and blue. */
export type Primaries = readonly [xr: number, yr: number, xg: number, yg: number, xb: number, yb: number];

/**
 * Which matrix turns linear light of these primaries into XYZ? It gives exactly `white` for equal full channels.
 * Row by row. Source: SMPTE RP 177 (the usual derivation).
 * @example toXyzMatrix([0.64, 0.33, 0.3, 0.6, 0.15, 0.06], whiteD65)[0] // 0.4123908
 */
export function toXyzMatrix([xr, yr, xg, yg, xb, yb]: Primaries, white: Xyz): Matrix3 {
  const at = (x: number, y: number) => [x / y, 1, (1 - x - y) / y] as const;
  const [r, g, b] = [at(xr, yr), at(xg, yg), at(xb, yb)];
  const unscaled: Matrix3 = [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]];
  const [sr, sg, sb] = applyMatrix3(inverseMatrix3(unscaled), white);
  return chainMatrix3(unscaled, [sr, 0, 0, 0, sg, 0, 0, 0, sb]);
}
