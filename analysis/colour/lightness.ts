/** 216/24389 and 24389/27, as CIE 15 has them; written out, since a curve's fit asks for L* some ten thousand times. */
const STRAIGHT_BELOW = 6 ** 3 / 29 ** 3;
const STRAIGHT_SLOPE = 29 ** 3 / 3 ** 3;

/**
 * How light does a surface of luminous reflectance `Y` (0..1, perfect white = 1) look? Returns L*, 0..100.
 * Any finite Y: below 216/24389 the straight part holds, also for slightly negative noise.
 * Source: CIE 15 / ISO 11664-4, exact constants.
 * @example lightnessFromY(0.18) // 49.4961
 */
export function lightnessFromY(Y: number): number {
  const f = Y > STRAIGHT_BELOW ? Math.cbrt(Y) : (STRAIGHT_SLOPE * Y + 16) / 116;
  return 116 * f - 16;
}

/**
 * Which luminous reflectance (0..1) has this L*? The inverse of `lightnessFromY`.
 * Source: CIE 15 / ISO 11664-4, exact constants.
 * @example yFromLightness(50) // 0.184187
 */
export function yFromLightness(L: number): number {
  const f = (L + 16) / 116;
  const cube = f ** 3;
  return cube > STRAIGHT_BELOW ? cube : (116 * f - 16) / STRAIGHT_SLOPE;
}

/** How much lighter per luminous reflectance does a surface of `Y` become? d(L*)/dY, of the formula above. */
export function lightnessPerY(Y: number): number {
  return Y > STRAIGHT_BELOW ? 116 / (3 * Math.cbrt(Y) ** 2) : STRAIGHT_SLOPE;
}
