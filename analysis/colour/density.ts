/**
 * What is the visual reflectance density of a surface of luminous reflectance `Y` (perfect white = 1)?
 * Returns -log10 Y: 0 for white, 2 for one per cent. A Y of zero or less has no finite density: Infinity.
 * Source: ISO 5-4 (definition of reflectance density).
 * @example densityFromY(0.18) // 0.7447
 */
export function densityFromY(Y: number): number {
  return Y > 0 ? -Math.log10(Y) : Number.POSITIVE_INFINITY;
}

/**
 * Which luminous reflectance (0..1) has this density? The inverse of `densityFromY`.
 * @example yFromDensity(0.3) // 0.501187
 */
export function yFromDensity(densityLog10: number): number {
  return 10 ** -densityLog10;
}
