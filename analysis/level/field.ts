import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { dot, FIELD_TERMS, fieldBasis } from './fieldBasis.ts';

/** A place with ln light in three channels. */
export interface FieldSample {
  readonly x: number;
  readonly y: number;
  readonly logs: readonly [number, number, number];
}

/**
 * Samples of one surface, whose reflectance is not known, so that only differences between them count.
 * The noise about a smooth field is what the surface itself varies: it hangs together over some length.
 */
export interface FieldGroup {
  readonly samples: readonly FieldSample[];
  readonly noise: SurfaceNoise;
  /** From `prepareSurface` for the same places and noise, where many fits share them. */
  readonly prepared?: PreparedSurface;
}

/** What places and noise alone decide of a fit, so that many fits of the same surface need it once. */
export interface PreparedSurface {
  /** Information on the field's terms, the surface's level eliminated. */
  readonly information: readonly (readonly number[])[];
  /** Samples × terms: weights by which ln light enters the right-hand side, the level eliminated. */
  readonly weights: readonly (readonly number[])[];
}

export interface SurfaceNoise {
  /** Standard deviation in ln light. */
  readonly sd: number;
  /** Length over which it hangs together, half diagonals of the photo; 0 for independent samples. */
  readonly length: number;
  /** Share of the variance that does not hang together, 0..1. */
  readonly ownShare: number;
  /** Direction of a grain along which it hangs together `GRAIN_RATIO` times as far, radians; null without grain. */
  readonly grain: number | null;
}

/** Pixels of the upright photo. */
export type Place = readonly [x: number, y: number];

/** Smooth light over the table: ln light relative to `anchor`, and the covariance of what is not known of it. */
export interface Field {
  readonly logLight: (x: number, y: number) => readonly [number, number, number];
  /** Covariance of ln light (relative to the anchor) between two places. */
  readonly covariance: (a: Place, b: Place) => number;
}

/**
 * What is believed of table light before anything is seen of it: standard deviations of the slope and curvature
 * terms per half diagonal. Light that falls off by 10–40 % across a photo [method §3] has slopes of 0.05 to 0.25.
 */
const PRIOR_SD = [0.16, 0.16, 0.09, 0.09, 0.09] as const;
const TERMS = FIELD_TERMS - 1;

/** Light that no second-order field describes: its size in ln light, and the length over which it changes. */
const UNSMOOTH_SD = 0.006;
const UNSMOOTH_LENGTH = 0.35;

/** How much further wood or weave hangs together along its grain than across it. */
const GRAIN_RATIO = 6;

/** Distance between two places in half diagonals, as the surface's grain sees it. */
const distanceBy = (grain: number | null, half: number): ((dx: number, dy: number) => number) => {
  if (grain === null) return (dx, dy) => Math.hypot(dx, dy) / half;
  const [cos, sin] = [Math.cos(grain), Math.sin(grain)];
  return (dx, dy) => Math.hypot((dx * cos + dy * sin) / GRAIN_RATIO, dy * cos - dx * sin) / half;
};

/** Columns weighted by the inverse of the noise's covariance, and ln of its determinant. */
const whitened = (
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
  half: number,
  columns: Matrix,
): { readonly weighted: Matrix; readonly logDeterminant: number } => {
  const n = places.length;
  const variance = noise.sd ** 2;
  if (noise.length === 0)
    return { weighted: Matrix.div(columns, variance), logDeterminant: n * Math.log(variance) };
  const v = new Matrix(n, n);
  const distance = distanceBy(noise.grain, half);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const d = distance(places[i].x - places[j].x, places[i].y - places[j].y);
      const shared = (1 - noise.ownShare) * Math.exp(-d / noise.length) + (i === j ? noise.ownShare : 0);
      v.set(i, j, variance * shared);
      v.set(j, i, variance * shared);
    }
  const cholesky = new CholeskyDecomposition(v);
  const lower = cholesky.lowerTriangularMatrix;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) logDeterminant += 2 * Math.log(lower.get(i, i));
  return { weighted: cholesky.solve(columns), logDeterminant };
};

const termsAt = (
  places: readonly { readonly x: number; readonly y: number }[],
  widthPx: number,
  heightPx: number,
): Matrix => {
  const basis = fieldBasis(widthPx, heightPx);
  return new Matrix(places.map((p) => basis(p.x, p.y)));
};

/** How much samples at these places, with this noise, tell of the field's terms. */
export const prepareSurface = (
  widthPx: number,
  heightPx: number,
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
): PreparedSurface => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = termsAt(places, widthPx, heightPx);
  const { weighted } = whitened(places, noise, half, columns);
  const all = columns.transpose().mmul(weighted);
  // Column 0 is the surface's own level: eliminate it.
  const level = all.get(0, 0);
  const reduced = (k: number, l: number) => all.get(k, l) - (all.get(k, 0) * all.get(0, l)) / level;
  return {
    information: Array.from({ length: TERMS }, (_, k) =>
      Array.from({ length: TERMS }, (_, l) => reduced(Math.max(k, l) + 1, Math.min(k, l) + 1)),
    ),
    weights: places.map((_, i) =>
      Array.from(
        { length: TERMS },
        (_, k) => weighted.get(i, k + 1) - (all.get(k + 1, 0) / level) * weighted.get(i, 0),
      ),
    ),
  };
};

const priorInformation = (): Matrix => Matrix.diag(PRIOR_SD.map((sd) => 1 / sd ** 2));

const LENGTHS = [0.04, 0.12, 0.35, 0.8];
const OWN_SHARES = [0.1, 0.5, 0.9];
const SD_FACTORS = [0.6, 0.85, 1.2, 1.7, 2.4];
const GRAIN_DIRECTIONS = 6;

/**
 * How the surface itself varies, judged by what makes the samples likeliest: sd, length and own share.
 *
 * @param samples of one surface. @param roughSd first idea of the standard deviation.
 */
export const judgeNoise = (
  widthPx: number,
  heightPx: number,
  samples: readonly FieldSample[],
  roughSd: number,
): SurfaceNoise => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = termsAt(samples, widthPx, heightPx);
  columns.addColumn(samples.map((s) => s.logs[1]));
  let best: SurfaceNoise = { sd: roughSd, length: 0.1, ownShare: 0.5, grain: null };
  let bestEvidence = Number.NEGATIVE_INFINITY;
  const consider = (length: number, ownShare: number, grain: number | null): void => {
    // One decomposition serves every sd: the noise only scales, so the information does too.
    const { weighted, logDeterminant: unitDeterminant } = whitened(
      samples,
      { sd: 1, length, ownShare, grain },
      half,
      columns,
    );
    const all = columns.transpose().mmul(weighted);
    const level = all.get(0, 0);
    const reduced = (i: number, j: number) => all.get(i, j) - (all.get(i, 0) * all.get(0, j)) / level;
    const green = FIELD_TERMS;
    const squares = reduced(green, green);
    for (const factor of SD_FACTORS) {
      const sd = roughSd * factor;
      const information = priorInformation();
      for (let k = 0; k < TERMS; k++)
        for (let l = 0; l < TERMS; l++)
          information.set(
            k,
            l,
            information.get(k, l) + reduced(Math.max(k, l) + 1, Math.min(k, l) + 1) / sd ** 2,
          );
      const cholesky = new CholeskyDecomposition(information);
      const right = Array.from({ length: TERMS }, (_, k) => reduced(k + 1, green) / sd ** 2);
      const solved = cholesky.solve(Matrix.columnVector(right)).to1DArray();
      const lower = cholesky.lowerTriangularMatrix;
      let logDeterminant = unitDeterminant + Math.log(level) + (samples.length - 1) * Math.log(sd ** 2);
      for (let k = 0; k < TERMS; k++) logDeterminant += 2 * Math.log(lower.get(k, k));
      const evidence = -0.5 * (logDeterminant + squares / sd ** 2 - dot(right, solved));
      if (evidence > bestEvidence) {
        bestEvidence = evidence;
        best = { sd, length, ownShare, grain };
      }
    }
  };
  for (const length of LENGTHS) for (const ownShare of OWN_SHARES) consider(length, ownShare, null);
  const { length, ownShare } = best;
  for (let d = 0; d < GRAIN_DIRECTIONS; d++)
    for (const shorter of [1, 0.4]) consider(length * shorter, ownShare, (Math.PI * d) / GRAIN_DIRECTIONS);
  return best;
};

/**
 * How does the light change over the table? A second-order field of ln light per channel, generalised least squares
 * with a weak prior on slopes and curvatures, each surface having an unknown reflectance of its own.
 *
 * @param groups may be empty: the answer is then the prior alone. @param anchor place where ln light is 0.
 */
export const fitField = (
  widthPx: number,
  heightPx: number,
  groups: readonly FieldGroup[],
  anchor: Place,
): Field => {
  const basis = fieldBasis(widthPx, heightPx);
  const half = Math.hypot(widthPx, heightPx) / 2;
  const information = priorInformation();
  const right = [0, 1, 2].map(() => new Array<number>(TERMS).fill(0));
  for (const group of groups) {
    if (group.samples.length < 2) continue;
    const { information: own, weights } =
      group.prepared ?? prepareSurface(widthPx, heightPx, group.samples, group.noise);
    for (let k = 0; k < TERMS; k++) {
      for (let l = 0; l < TERMS; l++) information.set(k, l, information.get(k, l) + own[k][l]);
      for (let c = 0; c < 3; c++)
        for (let i = 0; i < weights.length; i++) right[c][k] += weights[i][k] * group.samples[i].logs[c];
    }
  }
  const cholesky = new CholeskyDecomposition(information);
  const coefficients = right.map((r) => cholesky.solve(Matrix.columnVector(r)).to1DArray());
  const covariance = cholesky.solve(Matrix.eye(TERMS)).to2DArray();
  const from = basis(anchor[0], anchor[1]);
  const relative = (x: number, y: number) =>
    basis(x, y)
      .map((v, k) => v - from[k])
      .slice(1);
  const alike = (a: Place, b: Place) =>
    Math.exp(-0.5 * (Math.hypot(a[0] - b[0], a[1] - b[1]) / half / UNSMOOTH_LENGTH) ** 2);
  return {
    logLight: (x, y) => {
      const d = relative(x, y);
      return [dot(coefficients[0], d), dot(coefficients[1], d), dot(coefficients[2], d)];
    },
    covariance: (a, b) => {
      const da = relative(a[0], a[1]);
      const db = relative(b[0], b[1]);
      const smooth = da.reduce((s, v, k) => s + v * dot(covariance[k], db), 0);
      return smooth + UNSMOOTH_SD ** 2 * (alike(a, b) - alike(a, anchor) - alike(b, anchor) + 1);
    },
  };
};
