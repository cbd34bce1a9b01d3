import type { BandPoint } from '../../server/contracts/comparison.ts';

/** The interval of a curve after so many seconds, between the times at which its band is told; null beyond them. */
export const bandAt = (
  band: readonly BandPoint[],
  seconds: number,
): { readonly low: number; readonly high: number } | null => {
  const next = band.findIndex((point) => point.seconds >= seconds);
  if (next < 0) return null;
  const [after, before] = [band[next], band[next - 1]];
  if (before === undefined) return after.seconds === seconds ? after : null;
  const share = Math.log(seconds / before.seconds) / Math.log(after.seconds / before.seconds);
  const between = (side: 'low' | 'high'): number => before[side] + share * (after[side] - before[side]);
  return { low: between('low'), high: between('high') };
};
