import { Matrix, SingularValueDecomposition } from 'ml-matrix';

/** Weighted residuals (fitted minus observed, over its uncertainty) at some parameters; NaN where not allowed. */
export type Residuals = (parameters: readonly number[]) => ArrayLike<number>;

export interface LeastSquaresOptions {
  /** Rows of d(residual)/d(parameter); central differences unless given. */
  readonly jacobian?: (parameters: readonly number[]) => readonly ArrayLike<number>[];
  /** The same at the start, where it is known already. */
  readonly startJacobian?: readonly ArrayLike<number>[];
  readonly maxIterations?: number;
  /** Relative change of the sum of squares, and of the parameters, below which the search ends. */
  readonly tolerance?: number;
  /** False where only the parameters are wanted: then `covariance` is null, and `converged` that the search settled. */
  readonly describe?: boolean;
}

/** What a least-squares search came to. */
export interface LeastSquaresFit {
  readonly parameters: readonly number[];
  /** Sum of squared residuals there. */
  readonly rss: number;
  /** (JᵀJ)⁻¹: the parameters' covariance where residuals have unit variance; null where J has not full rank. */
  readonly covariance: readonly (readonly number[])[] | null;
  readonly degreesOfFreedom: number;
  readonly iterations: number;
  /** True only where every parameter is determined and the residuals stand square on all they can still do. */
  readonly converged: boolean;
}

const defaultIterations = 1000;
const defaultTolerance = 1e-15;
/** Share of the residual's length that may still lie along the tangent plane: the relative offset [Bates-Watts]. */
const offsetAllowed = 1e-5;

/**
 * Which parameters make the sum of squared residuals least, near these starting values?
 *
 * Levenberg–Marquardt in a trust region scaled by the columns of the Jacobian; QR for the full step, singular
 * values for the shortened one. `residuals` may return NaN or Infinity for parameters that are not allowed: the
 * step is then shortened. Never throws for a fit that fails: see `converged`.
 * Sources: [Moré1978] for the steps, [Bates-Watts] for the test of convergence; checked on [NIST-StRD].
 * @example fitLeastSquares(([a]) => [a - 1, a - 3], [0]).parameters // [2]
 */
export function fitLeastSquares(
  residuals: Residuals,
  start: readonly number[],
  options: LeastSquaresOptions = {},
): LeastSquaresFit {
  const tolerance = options.tolerance ?? defaultTolerance;
  const maxIterations = options.maxIterations ?? defaultIterations;
  const jacobianAt = options.jacobian ?? ((at: readonly number[]) => centralDifferences(residuals, at));
  const count = start.length;

  let at: readonly number[] = [...start];
  let r = residuals(at);
  let rss = squares(r);
  if (!Number.isFinite(rss)) return failed(at, r.length - count);
  let J = options.startJacobian ?? jacobianAt(at);
  const scale = new Array<number>(count).fill(0);
  let radius = 0;
  let iterations = 0;
  let settled = false;

  while (iterations < maxIterations && !settled) {
    for (let j = 0; j < count; j++) scale[j] = Math.max(scale[j], columnLength(J, j)) || 1;
    if (iterations === 0) radius = scaledLength(at, scale) || 1;
    if (rss === 0) break;
    const shorten = trustRegion(J, r, scale);
    let accepted = false;
    while (!accepted && !settled && iterations < maxIterations) {
      iterations++;
      const { step, lambda } = shorten(radius);
      const length = scaledLength(step, scale);
      const tried = at.map((value, j) => value + step[j]);
      const newR = residuals(tried);
      const newRss = squares(newR);
      const gain = Number.isFinite(newRss) ? 1 - newRss / rss : -1;
      const along = tangentSquares(J, step) / rss;
      const promised = along + (2 * lambda * length * length) / rss;
      const ratio = promised > 0 ? gain / promised : 0;
      if (ratio <= 0.25) {
        const slope = along + (lambda * length * length) / rss;
        const cut = gain >= 0 ? 0.5 : (0.5 * slope) / (slope - 0.5 * gain || 1);
        radius = Math.min(radius, 10 * length) * Math.min(0.5, Math.max(0.1, cut));
      } else if (lambda === 0 || ratio >= 0.75) {
        radius = 2 * length;
      }
      if (ratio >= 1e-4) {
        accepted = true;
        at = tried;
        r = newR;
        rss = newRss;
      }
      const size = scaledLength(at, scale);
      settled =
        (Math.abs(gain) <= tolerance && promised <= tolerance) || radius <= tolerance * size || length === 0;
    }
    if (accepted && !(settled && options.describe === false)) J = jacobianAt(at);
  }
  const degreesOfFreedom = r.length - count;
  if (options.describe === false)
    return { parameters: at, rss, covariance: null, degreesOfFreedom, iterations, converged: settled };
  const end = endOf(J, r, count);
  const offset = rss === 0 ? 0 : Math.sqrt(end.alongSquares / rss);
  const level = offset <= offsetAllowed || (settled && offset <= 1e-3 && tolerance > defaultTolerance);
  return {
    parameters: at,
    rss,
    covariance: end.covariance,
    degreesOfFreedom,
    iterations,
    converged: level && end.covariance !== null,
  };
}

/**
 * The best of several searches from different starting values: a converged one goes before one that isn't.
 * Throws nothing; with no start at all there is nothing to return, so `starts` must not be empty.
 */
export function fitFromMany(
  residuals: Residuals,
  starts: readonly (readonly number[])[],
  options: LeastSquaresOptions = {},
): LeastSquaresFit {
  const fits = starts.map((start) => fitLeastSquares(residuals, start, options));
  return fits.reduce((best, fit) => {
    if (fit.converged !== best.converged && closeEnough(fit, best)) return fit.converged ? fit : best;
    return fit.rss < best.rss || !Number.isFinite(best.rss) ? fit : best;
  });
}

function closeEnough(one: LeastSquaresFit, other: LeastSquaresFit): boolean {
  return Math.abs(one.rss - other.rss) <= 1e-6 * Math.min(one.rss, other.rss);
}

function failed(at: readonly number[], degreesOfFreedom: number): LeastSquaresFit {
  return {
    parameters: at,
    rss: Number.POSITIVE_INFINITY,
    covariance: null,
    degreesOfFreedom,
    iterations: 0,
    converged: false,
  };
}

/** A function from a trust radius to the best step within it, and its damping. */
function trustRegion(J: readonly ArrayLike<number>[], r: ArrayLike<number>, scale: readonly number[]) {
  const full = fullStep(J, r, scale);
  let parts: { s: readonly number[]; c: number[]; V: Matrix } | null = null;
  return (radius: number): { step: number[]; lambda: number } => {
    if (full && Math.hypot(...full) <= 1.1 * radius) {
      return { step: full.map((value, j) => value / scale[j]), lambda: 0 };
    }
    parts ??= singularParts(toMatrix(J, scale), r);
    const { s, c, V } = parts;
    const lambda = dampingFor(s, c, radius);
    const w = s.map((value, k) => (value > 0 || lambda > 0 ? (-value * c[k]) / (value * value + lambda) : 0));
    const step = scale.map((unit, j) => w.reduce((sum, value, k) => sum + V.get(j, k) * value, 0) / unit);
    return { step, lambda };
  };
}

function singularParts(scaled: Matrix, r: ArrayLike<number>) {
  const svd = new SingularValueDecomposition(scaled, { autoTranspose: true });
  const U = svd.leftSingularVectors;
  const s = svd.diagonal;
  const c = s.map((_, k) => {
    let sum = 0;
    for (let i = 0; i < r.length; i++) sum += U.get(i, k) * r[i];
    return sum;
  });
  return { s, c, V: svd.rightSingularVectors };
}

/** The damping at which the step is as long as the radius, to 10 %: Newton's method on 1/length, as Moré has it. */
function dampingFor(s: readonly number[], c: readonly number[], radius: number): number {
  const floor = 1e-14 * Math.max(...s);
  const lengthAt = (lambda: number) =>
    Math.hypot(...s.map((value, k) => (value > floor ? (value * c[k]) / (value * value + lambda) : 0)));
  if (lengthAt(0) <= 1.1 * radius) return 0;
  let low = 0;
  let high = Math.hypot(...s.map((value, k) => value * c[k])) / radius;
  let lambda = Math.min(high, Math.max(1e-3 * high, lengthAt(0) / radius > 1e8 ? 0 : 1e-10 * high));
  for (let round = 0; round < 60; round++) {
    const length = lengthAt(lambda);
    if (Math.abs(length - radius) <= 0.1 * radius) break;
    if (length > radius) low = lambda;
    else high = lambda;
    const fall = s.reduce((sum, value, k) => {
      const part = (value * c[k]) / (value * value + lambda);
      return value > floor ? sum + (part * part) / (value * value + lambda) : sum;
    }, 0);
    lambda += (length - radius) * (length / (radius * fall)) * length;
    if (!(lambda > low && lambda < high)) lambda = low > 0 ? Math.sqrt(low * high) : high * 1e-3;
  }
  return lambda;
}

/** Kept from step to step: a typed array costs more to make than a small step to take. */
let work = new Float64Array(0);

/**
 * The step to the least squares of the linearised problem, by Householder's reflections; null where the columns are not
 * independent. Flat rows: a bootstrap takes thousands of such steps.
 */
function fullStep(
  J: readonly ArrayLike<number>[],
  r: ArrayLike<number>,
  scale: readonly number[],
): number[] | null {
  const rows = J.length;
  const columns = scale.length;
  if (rows < columns) return null;
  const width = columns + 1;
  if (work.length < rows * width) work = new Float64Array(rows * width);
  const a = work;
  for (let i = 0; i < rows; i++) {
    const row = J[i];
    for (let j = 0; j < columns; j++) {
      const value = row[j] / scale[j];
      a[i * width + j] = Number.isFinite(value) ? value : 0;
    }
    a[i * width + columns] = -r[i];
  }
  for (let k = 0; k < columns; k++) {
    let length = 0;
    for (let i = k; i < rows; i++) length += a[i * width + k] * a[i * width + k];
    length = Math.sqrt(length);
    if (length === 0) return null;
    if (a[k * width + k] > 0) length = -length;
    const head = a[k * width + k] - length;
    // The reflection's vector is (head, the column below); it is kept in place until all columns are reflected.
    for (let j = k + 1; j < width; j++) {
      let along = head * a[k * width + j];
      for (let i = k + 1; i < rows; i++) along += a[i * width + k] * a[i * width + j];
      along /= length * head;
      a[k * width + j] += along * head;
      for (let i = k + 1; i < rows; i++) a[i * width + j] += along * a[i * width + k];
    }
    a[k * width + k] = length;
  }
  const step = new Array<number>(columns);
  for (let k = columns - 1; k >= 0; k--) {
    let sum = a[k * width + columns];
    for (let j = k + 1; j < columns; j++) sum -= a[k * width + j] * step[j];
    step[k] = sum / a[k * width + k];
  }
  return step.every(Number.isFinite) ? step : null;
}

/** The parameters' covariance, and the squared length of the residual's part within the tangent plane. */
function endOf(J: readonly ArrayLike<number>[], r: ArrayLike<number>, count: number) {
  const unit = Array.from({ length: count }, (_, j) => columnLength(J, j) || 1);
  const { s, c, V } = singularParts(toMatrix(J, unit), r);
  const largest = Math.max(...s);
  const alongSquares = s.reduce((sum, value, k) => (value > 1e-12 * largest ? sum + c[k] * c[k] : sum), 0);
  const determined = J.length >= count && Math.min(...s) > 1e-13 * largest && unit.every(Number.isFinite);
  if (!determined) return { alongSquares, covariance: null };
  const covariance = unit.map((one, i) =>
    unit.map(
      (other, j) =>
        s.reduce((sum, value, k) => sum + (V.get(i, k) * V.get(j, k)) / (value * value), 0) / (one * other),
    ),
  );
  return { alongSquares, covariance };
}

function centralDifferences(residuals: Residuals, at: readonly number[]): Float64Array[] {
  const columns = at.map((value, j) => {
    const h = Math.cbrt(Number.EPSILON) * (Math.abs(value) || 1);
    const up = value + h;
    const down = value - h;
    const shifted = [...at];
    shifted[j] = up;
    const high = residuals(shifted);
    shifted[j] = down;
    const low = residuals(shifted);
    return Array.from(high, (_, i) => (high[i] - low[i]) / (up - down));
  });
  return Array.from(columns[0], (_, i) => Float64Array.from(columns, (column) => column[i]));
}

function toMatrix(J: readonly ArrayLike<number>[], scale: readonly number[]): Matrix {
  const matrix = new Matrix(J.length, scale.length);
  for (let i = 0; i < J.length; i++) {
    for (let j = 0; j < scale.length; j++) {
      const value = J[i][j] / scale[j];
      matrix.set(i, j, Number.isFinite(value) ? value : 0);
    }
  }
  return matrix;
}

function tangentSquares(J: readonly ArrayLike<number>[], step: readonly number[]): number {
  let total = 0;
  for (const row of J) {
    let sum = 0;
    for (let j = 0; j < step.length; j++) sum += row[j] * step[j];
    total += sum * sum;
  }
  return total;
}

function columnLength(J: readonly ArrayLike<number>[], j: number): number {
  let sum = 0;
  for (const row of J) sum += row[j] * row[j];
  return Math.sqrt(sum);
}

function scaledLength(values: readonly number[], scale: readonly number[]): number {
  let sum = 0;
  for (let j = 0; j < values.length; j++) sum += (values[j] * scale[j]) ** 2;
  return Math.sqrt(sum);
}

function squares(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}
