/**
 * How far does a sum of squared whitened residuals lie above what its degrees of freedom lead to expect, in standard
 * deviations of a normal? By Wilson and Hilferty's cube root, good to about 0.1 from one degree of freedom on.
 * @example misfitZ(18.307, 10) // 1.65
 */
export function misfitZ(chiSquared: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom < 1) return 0;
  const spread = 2 / (9 * degreesOfFreedom);
  return (Math.cbrt(chiSquared / degreesOfFreedom) - (1 - spread)) / Math.sqrt(spread);
}
