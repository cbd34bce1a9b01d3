import type { Xyz } from './lab.ts';
import { applyMatrix3, chainMatrix3, inverseMatrix3, type Matrix3 } from './matrix3.ts';

/** XYZ to sharpened cone responses. Source: Bradford, as in ICC.1 annex E and CSS Color 4. */
const BRADFORD: Matrix3 = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296];

/**
 * Which matrix turns XYZ seen under one white into XYZ that look the same under another? Linear Bradford
 * adaptation; it maps `from` exactly onto `to`. Row by row, applied to XYZ columns.
 * Source: Lam 1985; ICC.1 annex E.
 * @example bradford([0.95047, 1, 1.08883], [0.96422, 1, 0.82521])[0] // 1.0478112
 */
export function bradford(from: Xyz, to: Xyz): Matrix3 {
  const cones = applyMatrix3(BRADFORD, from);
  const wanted = applyMatrix3(BRADFORD, to);
  const gain = [wanted[0] / cones[0], 0, 0, 0, wanted[1] / cones[1], 0, 0, 0, wanted[2] / cones[2]];
  return chainMatrix3(inverseMatrix3(BRADFORD), chainMatrix3(gain, BRADFORD));
}
