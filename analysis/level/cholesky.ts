/**
 * Cholesky's factor of a positive definite matrix, on flat rows: what the light field does thousands of times a
 * reading. ml-matrix does the same at a fifth of the speed, through its getters.
 */
export interface Factor {
  readonly n: number;
  /** Lower triangle, row-major, n·n. */
  readonly lower: Float64Array;
  /** ln of the matrix's determinant. */
  readonly logDeterminant: number;
}

/** Smallest pivot: rounding can bring a nearly singular matrix to zero or below. */
const LEAST_PIVOT = 1e-300;

/** @param a row-major n·n, only its lower triangle is read. */
export const factorise = (a: Float64Array, n: number): Factor => {
  const lower = new Float64Array(n * n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let j = 0; j <= i; j++) {
      const other = j * n;
      let sum = a[row + j];
      for (let k = 0; k < j; k++) sum -= lower[row + k] * lower[other + k];
      if (i === j) {
        const pivot = Math.max(sum, LEAST_PIVOT);
        lower[row + i] = Math.sqrt(pivot);
        logDeterminant += Math.log(pivot);
      } else lower[row + j] = sum / lower[other + j];
    }
  }
  return { n, lower, logDeterminant };
};

/** Solves L·z = b for one column. */
export const forward = ({ n, lower }: Factor, b: Float64Array): Float64Array => {
  const z = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= lower[row + k] * z[k];
    z[i] = sum / lower[row + i];
  }
  return z;
};

/** Solves A·x = b for one column. */
export const solveBy = (factor: Factor, b: Float64Array): Float64Array => {
  const { n, lower } = factor;
  const x = forward(factor, b);
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  return x;
};
