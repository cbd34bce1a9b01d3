import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { dot, FIELD_TERMS, fieldBasis } from './fieldBasis.ts';

/** A place with ln light in three channels; `group` ties samples of one surface (one unknown reflectance) together. */
export interface FieldSample {
  readonly x: number;
  readonly y: number;
  readonly logs: readonly [number, number, number];
  readonly group: number;
  /** Standard deviation of `logs` about a smooth field. */
  readonly sd: number;
}

/** Smooth light over the table: ln light relative to `anchor`, and the covariance of what is not known of it. */
export interface Field {
  readonly logLight: (x: number, y: number) => readonly [number, number, number];
  /** Covariance of ln light (relative to the anchor) between two places. */
  readonly covariance: (a: readonly [number, number], b: readonly [number, number]) => number;
}

/**
 * What is believed of table light before anything is seen of it: standard deviations of the slope and curvature
 * terms per half diagonal. Light that falls off by 10–40 % across a photo [method §3] has slopes of 0.05 to 0.25.
 */
const PRIOR_SD = [0, 0.16, 0.16, 0.09, 0.09, 0.09] as const;

/**
 * How does the light change over the table? A second-order field of ln light per channel, least squares with a
 * weak prior on slopes and curvatures, each group of samples having a level of its own.
 *
 * @param samples may be empty: the answer is then the prior alone. @param anchor place where ln light is 0.
 */
export const fitField = (
  widthPx: number,
  heightPx: number,
  samples: readonly FieldSample[],
  anchor: readonly [number, number],
): Field => {
  const basis = fieldBasis(widthPx, heightPx);
  const terms = FIELD_TERMS - 1;
  const groups = [...new Set(samples.map((s) => s.group))];
  const phi = samples.map((s) => basis(s.x, s.y).slice(1));
  const information = Matrix.zeros(terms, terms);
  const right = [0, 1, 2].map(() => new Array<number>(terms).fill(0));
  for (let k = 0; k < terms; k++) information.set(k, k, 1 / PRIOR_SD[k + 1] ** 2);
  for (const group of groups) {
    const members = samples.flatMap((s, i) => (s.group === group ? [i] : []));
    const weights = members.map((i) => 1 / samples[i].sd ** 2);
    const total = weights.reduce((s, w) => s + w, 0);
    const centre = Array.from({ length: terms }, (_, k) => members.reduce((s, i, m) => s + weights[m] * phi[i][k], 0) / total);
    const level = [0, 1, 2].map((c) => members.reduce((s, i, m) => s + weights[m] * samples[i].logs[c], 0) / total);
    members.forEach((i, m) => {
      for (let k = 0; k < terms; k++) {
        const left = weights[m] * (phi[i][k] - centre[k]);
        for (let l = 0; l <= k; l++) {
          const added = information.get(k, l) + left * (phi[i][l] - centre[l]);
          information.set(k, l, added);
          information.set(l, k, added);
        }
        for (let c = 0; c < 3; c++) right[c][k] += left * (samples[i].logs[c] - level[c]);
      }
    });
  }
  const cholesky = new CholeskyDecomposition(information);
  const coefficients = right.map((r) => cholesky.solve(Matrix.columnVector(r)).to1DArray());
  const covariance = cholesky.solve(Matrix.eye(terms)).to2DArray();
  const from = basis(anchor[0], anchor[1]).slice(1);
  const relative = (x: number, y: number) => basis(x, y).slice(1).map((v, k) => v - from[k]);
  return {
    logLight: (x, y) => {
      const d = relative(x, y);
      return [dot(coefficients[0], d), dot(coefficients[1], d), dot(coefficients[2], d)];
    },
    covariance: (a, b) => {
      const da = relative(a[0], a[1]);
      const db = relative(b[0], b[1]);
      return da.reduce((s, v, k) => s + v * dot(covariance[k], db), 0);
    },
  };
};
