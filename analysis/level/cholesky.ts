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

/** Σ a[from + k]·b[at + k] over `count` terms; four sums side by side, since an addition waits for the one before it. */
export const dotAt = (a: Float64Array, from: number, b: Float64Array, at: number, count: number): number => {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  for (; k + 3 < count; k += 4) {
    s0 += a[from + k] * b[at + k];
    s1 += a[from + k + 1] * b[at + k + 1];
    s2 += a[from + k + 2] * b[at + k + 2];
    s3 += a[from + k + 3] * b[at + k + 3];
  }
  for (; k < count; k++) s0 += a[from + k] * b[at + k];
  return s0 + s1 + (s2 + s3);
};

/** @param a row-major n·n, only its lower triangle is read. */
export const factorise = (a: Float64Array, n: number): Factor => {
  const lower = new Float64Array(n * n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let j = 0; j <= i; j++) {
      const other = j * n;
      const sum = a[row + j] - dotAt(lower, row, lower, other, j);
      if (i === j) {
        const pivot = Math.max(sum, LEAST_PIVOT);
        lower[row + i] = Math.sqrt(pivot);
        logDeterminant += Math.log(pivot);
      } else lower[row + j] = sum / lower[other + j];
    }
  }
  return { n, lower, logDeterminant };
};

/** Σ a·b of two columns. */
export const dotOf = (a: Float64Array, b: Float64Array): number => dotAt(a, 0, b, 0, a.length);

/** Solves L·z = b for one column. */
export const forward = ({ n, lower }: Factor, b: Float64Array): Float64Array => {
  const z = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    z[i] = (b[i] - dotAt(lower, row, z, 0, i)) / lower[row + i];
  }
  return z;
};

/** Solves A·x = b for one column. */
export const solveBy = (factor: Factor, b: Float64Array): Float64Array => {
  const { n, lower } = factor;
  const x = forward(factor, b);
  for (let i = n - 1; i >= 0; i--) {
    const row = i * n;
    const solved = x[i] / lower[row + i];
    x[i] = solved;
    for (let k = 0; k < i; k++) x[k] -= lower[row + k] * solved;
  }
  return x;
};
