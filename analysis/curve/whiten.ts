/** Lower-triangular W with W·C·Wᵀ = 1: what makes correlated errors independent and of unit size. */
export type Whitener = readonly (readonly number[])[];

/**
 * The whitening matrix of a covariance, by Cholesky. A covariance that is not quite positive definite (rounding,
 * one error shared by all) gets the least addition to its diagonal that makes it so.
 */
export function whitenerOf(covariance: readonly (readonly number[])[]): Whitener {
  const size = Math.max(...covariance.map((row, i) => row[i]), 1e-12);
  for (let jitter = 0; ; jitter = jitter === 0 ? 1e-10 * size : 10 * jitter) {
    const lower = cholesky(covariance, jitter);
    if (lower) return invertLower(lower);
  }
}

/** Lower-triangular root of a covariance, for drawing errors that hang together as it says. */
export function rootOf(covariance: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const size = Math.max(...covariance.map((row, i) => row[i]), 1e-12);
  for (let jitter = 0; ; jitter = jitter === 0 ? 1e-10 * size : 10 * jitter) {
    const lower = cholesky(covariance, jitter);
    if (lower) return lower;
  }
}

/** W·v. */
export function whiten(W: Whitener, v: readonly number[]): number[] {
  return W.map((row) => {
    let sum = 0;
    for (let j = 0; j < row.length; j++) sum += row[j] * v[j];
    return sum;
  });
}

/** A covariance with its diagonal raised by `extra`. */
export function withDiagonal(
  covariance: readonly (readonly number[])[],
  extra: readonly number[],
): readonly (readonly number[])[] {
  return covariance.map((row, i) => row.map((value, j) => (i === j ? value + extra[i] : value)));
}

/** Rows and columns of a covariance in the order of `indices`. */
export function subset(
  covariance: readonly (readonly number[])[],
  indices: readonly number[],
): readonly (readonly number[])[] {
  return indices.map((i) => indices.map((j) => covariance[i][j]));
}

/**
 * gᵀ·M⁻¹·g of a positive definite M, given row by row and used up. Infinity where M is not positive definite.
 * @example inverseForm(Float64Array.of(4, 0, 0, 1), [2, 3]) // 10
 */
export function inverseForm(M: Float64Array, g: readonly number[]): number {
  const size = g.length;
  const solved = new Array<number>(size).fill(0);
  let form = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = M[i * size + j];
      for (let k = 0; k < j; k++) sum -= M[i * size + k] * M[j * size + k];
      if (i === j && !(sum > 0)) return Number.POSITIVE_INFINITY;
      M[i * size + j] = i === j ? Math.sqrt(sum) : sum / M[j * size + j];
    }
    let rest = g[i];
    for (let k = 0; k < i; k++) rest -= M[i * size + k] * solved[k];
    solved[i] = rest / M[i * size + i];
    form += solved[i] * solved[i];
  }
  return form;
}

/** Rows hold only the part up to the diagonal. Null where the matrix is not positive definite. */
function cholesky(covariance: readonly (readonly number[])[], jitter: number): number[][] | null {
  const lower: number[][] = [];
  for (let i = 0; i < covariance.length; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i][j] + (i === j ? jitter : 0);
      for (let k = 0; k < j; k++) sum -= row[k] * (i === j ? row[k] : lower[j][k]);
      if (i === j) {
        if (!(sum > 1e-14 * (covariance[i][i] + jitter))) return null;
        row.push(Math.sqrt(sum));
      } else {
        row.push(sum / lower[j][j]);
      }
    }
    lower.push(row);
  }
  return lower;
}

function invertLower(lower: readonly (readonly number[])[]): number[][] {
  const inverse: number[][] = [];
  for (let i = 0; i < lower.length; i++) {
    const row = new Array<number>(i + 1);
    for (let j = 0; j < i; j++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= lower[i][k] * inverse[k][j];
      row[j] = sum / lower[i][i];
    }
    row[i] = 1 / lower[i][i];
    inverse.push(row);
  }
  return inverse;
}
