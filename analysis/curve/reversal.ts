/** Standard uncertainties that a rise must exceed to be called one, and the least rise in L*. */
const surely = 3;
const likely = 2;
const leastRiseL = 1;

/**
 * Does L* rise again beyond the shoulder? Returns the index of the first step of the risen tail, or null. The tail is
 * what lies above the deepest step up to the end of the strip, by more than can be their error against each other.
 *
 * `L` in rising exposure, exposed steps only; `covariance` of the same.
 */
export function reversedFrom(
  L: readonly number[],
  covariance: readonly (readonly number[])[],
): number | null {
  const deepest = L.indexOf(Math.min(...L));
  const u = (i: number) =>
    Math.sqrt(Math.max(1e-6, covariance[i][i] + covariance[deepest][deepest] - 2 * covariance[i][deepest]));
  let from = L.length;
  while (from - 1 > deepest) {
    const rise = L[from - 1] - L[deepest];
    if (!(rise > likely * u(from - 1) && rise > leastRiseL / 2)) break;
    from--;
  }
  const sure = L.some((value, i) => i >= from && value - L[deepest] > Math.max(leastRiseL, surely * u(i)));
  return sure ? from : null;
}
