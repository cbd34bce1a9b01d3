/** Mean and spread of whole codes. */
export interface CodeSpread {
  readonly mean: number;
  readonly deviation: number;
}

/** From the number of codes, their sum and the sum of their squares, whole numbers all. */
export const codeSpread = (count: number, sum: number, squares: number): CodeSpread => {
  if (count === 0) return { mean: 0, deviation: 0 };
  const mean = sum / count;
  return { mean, deviation: Math.sqrt(Math.max(0, squares / count - mean ** 2)) };
};

/** Standard deviation of what rounding takes from a value, in codes: uniform over one code. */
const ONE_ROUNDING = 1 / Math.sqrt(12);

/**
 * How far may the mean light of an area be off because its file holds whole codes? Noise or texture of half a code
 * carries the mean through the steps between codes; an area without any, as in a photo far too dark, stays off by up
 * to half a code, however many pixels it has.
 *
 * The mean of rounded Gaussian noise of standard deviation s is off by at most exp(−2π²s²)/π codes: the first term of
 * the Fourier series of rounding (derived here, no source).
 *
 * @param codes of the area. @param linear light of each code. @returns one standard uncertainty of light.
 */
export const roundingUOf = (codes: CodeSpread, linear: ArrayLike<number>): number => {
  const at = Math.round(codes.mean);
  const [below, above] = [Math.max(0, at - 1), Math.min(linear.length - 1, at + 1)];
  const lightPerCode = (linear[above] - linear[below]) / Math.max(1, above - below);
  return ONE_ROUNDING * Math.exp(-2 * Math.PI ** 2 * codes.deviation ** 2) * Math.abs(lightPerCode);
};
