/** 1 where the profile runs level, near 0 on ramps of blur and penumbra, and on lines and threads across the strip. */
export function flatness(planes: readonly Float64Array[], noise: readonly number[]): Float64Array {
  const length = planes[0].length;
  return Float64Array.from({ length }, (_, i) => {
    let square = 0;
    planes.forEach((plane, p) => {
      const before = plane[i] - plane[Math.max(0, i - 2)];
      const after = plane[Math.min(length - 1, i + 2)] - plane[i];
      square += (before ** 2 + after ** 2) / (3 * noise[p]) ** 2;
    });
    return Math.max(0.03, 1 / (1 + square));
  });
}
