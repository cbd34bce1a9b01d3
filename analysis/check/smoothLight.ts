import type { LightGroup } from './lightGroups.ts';

/** How well a shape explains what smooth light leaves: by how much the weighted squares fall, and its size. */
export interface Explained {
  readonly gain: number;
  readonly size: number;
}

/** What smooth light leaves unexplained, and smooth light itself. */
export interface SmoothLight {
  readonly groups: readonly LightGroup[];
  /** Sample by sample, group after group. */
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly groupOf: Int32Array;
  /** First sample of each group, and the number of all. */
  readonly from: readonly number[];
  /** Smooth light at a place, as a difference from the photo's middle. */
  readonly at: (u: number, v: number) => number;
  /** What a sample differs from its group's mean once smooth light is taken out. */
  readonly left: Float64Array;
  /** Weighted squares of what is left, in standard deviations. */
  readonly squares: number;
  /** How much of what is left has this shape, one number per sample, from sample `first` up to `last`, 0 elsewhere? */
  readonly explain: (shape: Float64Array, first?: number, last?: number) => Explained;
}

/** Standard deviations of slope (2) and curvature (3) per half diagonal, the camera's tone included. */
const PRIOR_SD = [0.25, 0.25, 0.15, 0.15, 0.15];
const TERMS = 5;
/** So many independent samples a group holds at most: what a surface varies by hangs together. */
const MOST_INDEPENDENT = { card: 6, step: 6, surround: 30 };

/**
 * Takes out of the samples what light that changes smoothly explains: a second-order field with a weak prior, each
 * group having a level of its own.
 *
 * The field's terms are made orthonormal, so that a further shape is judged without solving again.
 */
export const smoothLight = (groups: readonly LightGroup[]): SmoothLight => {
  const from = [0];
  for (const g of groups) from.push(from[from.length - 1] + g.samples.length);
  const n = from[groups.length];
  const u = new Float64Array(n);
  const v = new Float64Array(n);
  const root = new Float64Array(n);
  const groupOf = new Int32Array(n);
  const weightOf = new Float64Array(groups.length);
  const long = n + TERMS;
  const rest = new Float64Array(long);
  const terms = Array.from({ length: TERMS }, () => new Float64Array(long));

  groups.forEach((group, j) => {
    const { samples, sd, of } = group;
    const weight = Math.min(1, MOST_INDEPENDENT[of] / samples.length) / sd ** 2;
    weightOf[j] = weight * samples.length;
    samples.forEach((s, i) => {
      const k = from[j] + i;
      u[k] = s.u;
      v[k] = s.v;
      root[k] = Math.sqrt(weight);
      groupOf[k] = j;
      rest[k] = s.value;
      [s.u, s.v, s.u * s.u, s.u * s.v, s.v * s.v].forEach((term, t) => {
        terms[t][k] = term;
      });
    });
    for (const column of [rest, ...terms]) {
      let mean = 0;
      for (let k = from[j]; k < from[j + 1]; k++) mean += column[k] / samples.length;
      for (let k = from[j]; k < from[j + 1]; k++) column[k] = (column[k] - mean) * root[k];
    }
  });

  // Gram–Schmidt; the prior stands as five further rows. `raw` restates each orthonormal term by the original ones.
  const raw = terms.map((_, t) => terms.map((__, i) => (i === t ? 1 : 0)));
  const solution = new Array<number>(TERMS).fill(0);
  terms.forEach((term, t) => {
    term[n + t] = 1 / PRIOR_SD[t];
    for (let s = 0; s < t; s++) {
      const shared = product(term, terms[s]);
      for (let k = 0; k < long; k++) term[k] -= shared * terms[s][k];
      for (let i = 0; i < TERMS; i++) raw[t][i] -= shared * raw[s][i];
    }
    const length = Math.sqrt(product(term, term));
    for (let k = 0; k < long; k++) term[k] /= length;
    for (let i = 0; i < TERMS; i++) raw[t][i] /= length;
    const share = product(rest, term);
    for (let k = 0; k < long; k++) rest[k] -= share * term[k];
    for (let i = 0; i < TERMS; i++) solution[i] += share * raw[t][i];
  });
  const left = Float64Array.from({ length: n }, (_, k) => rest[k] / root[k]);
  const fit: Fitted = { terms, root, rest, groupOf, weightOf, sums: new Float64Array(groups.length) };

  return {
    groups,
    u,
    v,
    groupOf,
    from,
    at: (x, y) =>
      solution[0] * x + solution[1] * y + solution[2] * x * x + solution[3] * x * y + solution[4] * y * y,
    left,
    squares: product(rest, rest),
    explain: (shape, first = 0, last = n) => explained(fit, shape, first, last),
  };
};

/** What smooth light was fitted with, for further shapes. */
interface Fitted {
  readonly terms: readonly Float64Array[];
  readonly root: Float64Array;
  readonly rest: Float64Array;
  readonly groupOf: Int32Array;
  readonly weightOf: Float64Array;
  readonly sums: Float64Array;
}

const explained = (
  { terms, root, rest, groupOf, weightOf, sums }: Fitted,
  shape: Float64Array,
  first: number,
  last: number,
): Explained => {
  const [t0, t1, t2, t3, t4] = terms;
  let [common, own, s0, s1, s2, s3, s4] = [0, 0, 0, 0, 0, 0, 0];
  sums.fill(0);
  for (let k = first; k < last; k++) {
    const e = shape[k] * root[k];
    common += e * rest[k];
    own += e * e;
    sums[groupOf[k]] += e * root[k];
    s0 += e * t0[k];
    s1 += e * t1[k];
    s2 += e * t2[k];
    s3 += e * t3[k];
    s4 += e * t4[k];
  }
  for (let j = 0; j < sums.length; j++) own -= sums[j] ** 2 / weightOf[j];
  own -= s0 * s0 + s1 * s1 + s2 * s2 + s3 * s3 + s4 * s4;
  return own < 1e-6 ? { gain: 0, size: 0 } : { gain: common ** 2 / own, size: common / own };
};

const product = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
};
