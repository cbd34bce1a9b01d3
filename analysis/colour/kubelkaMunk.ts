/**
 * How strongly does an opaque layer absorb for its scattering? K/S = (1 − R)² / 2R for reflectance R in 0..1.
 * Roughly proportional to the amount of dye at pale and middling depth. A reflectance of 1 or more (noise
 * above the white) has K/S 0; zero or less has no finite K/S: Infinity.
 * Source: Kubelka and Munk 1931, opaque layer.
 * @example ksFromReflectance(0.2) // 1.6
 */
export function ksFromReflectance(R: number): number {
  if (R >= 1) return 0;
  return R > 0 ? (1 - R) ** 2 / (2 * R) : Number.POSITIVE_INFINITY;
}

/**
 * Which reflectance (0..1) has an opaque layer of this K/S? The inverse of `ksFromReflectance`; K/S at or below 0
 * gives 1.
 * Source: Kubelka and Munk 1931. Written as a quotient: 1 + k − √(k² + 2k) loses every digit for large k.
 * @example reflectanceFromKs(1.6) // 0.2
 */
export function reflectanceFromKs(ks: number): number {
  if (ks <= 0) return 1;
  return 1 / (1 + ks + Math.sqrt(ks) * Math.sqrt(ks + 2));
}
