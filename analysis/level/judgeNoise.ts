import { brightnessWeights, type ChannelNoise, GREY_NOISE, TINTS, weighed } from './channels.ts';
import { dotOf, factorise, forward } from './cholesky.ts';
import type { FieldSample } from './field.ts';
import { fieldBasis, TINT_TERMS, tintSd } from './fieldBasis.ts';
import type { Neighbourhood } from './neighbourhood.ts';
import { termColumns } from './preparedSurface.ts';
import { noiseFactor, type SurfaceNoise } from './surfaceNoise.ts';

const LENGTHS = [0.04, 0.12, 0.35];
const OWN_SHARES = [0.1, 0.5, 0.9];
const SD_FACTORS = [0.6, 0.85, 1.2, 1.7, 2.4];
const GRAIN_DIRECTIONS = 6;

/**
 * How far light and dark places stray from a smooth field, in ln light: under a lamp or two on an even board; in a room
 * with walls and people; on creased paper, or by a phone that evens out parts of a picture. Paper beside five photographed
 * charts strays by 6 to 15 % from its lightest to its darkest place (docs/decisions/0005).
 */
const STRAYS = [0.006, 0.018, 0.05] as const;
/** Light that strays further is rarer: a loss of 0.5 in ln belief for every hundredth of ln light. */
const RARITY = 50;

/** How a surface varies of itself, and how far the light on it strays from a smooth field. */
export interface JudgedNoise extends SurfaceNoise {
  readonly strays: number;
}

// Loops of their own outside any closure: a closure's compiled form is lost with it, at the next collection of memory.

/** Products of the columns 1 to `terms` with each other, the lower triangle. */
const productsOf = (white: readonly Float64Array[], terms: number, to: Float64Array): void => {
  for (let k = 0; k < terms; k++)
    for (let l = 0; l <= k; l++) to[k * terms + l] = dotOf(white[k + 1], white[l + 1]);
};

/** The lower triangle of `own` times a number, with a diagonal added. */
const scaledPlus = (
  own: Float64Array,
  factor: number,
  diagonal: readonly number[],
  to: Float64Array,
): void => {
  const terms = diagonal.length;
  for (let k = 0; k < terms; k++) {
    for (let at = k * terms; at <= k * terms + k; at++) to[at] = own[at] * factor;
    to[k * terms + k] += diagonal[k];
  }
};

/**
 * How the surface itself varies, and how far the light on it strays, judged by what makes the samples likeliest.
 *
 * @param samples of one surface. @param roughSd first idea of the standard deviation.
 */
export const judgeNoise = (
  widthPx: number,
  heightPx: number,
  samples: readonly FieldSample[],
  roughSd: number,
  around: Neighbourhood | null = null,
  channels: ChannelNoise = GREY_NOISE,
): JudgedNoise => {
  const weights = brightnessWeights(channels);
  const half = Math.hypot(widthPx, heightPx) / 2;
  const basis = fieldBasis(widthPx, heightPx, around);
  const places = termColumns(samples, basis);
  const brightness = Float64Array.from(samples, ({ logs }) => weighed(weights, logs));
  // What is expected of the light goes out first: belief is about what strays from it.
  basis.priorMean.forEach((mean, k) => {
    if (mean !== 0) for (let i = 0; i < brightness.length; i++) brightness[i] -= mean * places[k + 1][i];
  });
  const columns = [...places, brightness];
  const terms = columns.length - 2;
  const seen = terms + 1;
  // What the weighting makes of light that differs in colour looks like more slope.
  const leaks = TINTS.map((tint) => weighed(weights, tint));
  const believed = STRAYS.map((strays) => {
    const priorSd = basis
      .priorSd(strays)
      .map((sd, k) =>
        k < TINT_TERMS ? Math.hypot(sd, leaks[0] * tintSd(0, k), leaks[1] * tintSd(1, k)) : sd,
      );
    const logDeterminant = priorSd.reduce((s, sd) => s - 2 * Math.log(sd), 0);
    return {
      strays,
      information: priorSd.map((sd) => 1 / sd ** 2),
      logDeterminant: logDeterminant - RARITY * strays,
    };
  });
  let best: JudgedNoise = {
    sd: roughSd,
    length: 0.1,
    ownShare: 0.5,
    grain: null,
    channels,
    strays: STRAYS[0],
  };
  let bestEvidence = Number.NEGATIVE_INFINITY;
  const information = new Float64Array(terms * terms);
  const own = new Float64Array(terms * terms);
  const ownRight = new Float64Array(terms);
  /** Place in `SD_FACTORS` of the last form of noise's likeliest. */
  let peak = 1;
  const consider = (length: number, ownShare: number, grain: number | null): void => {
    // One decomposition serves every sd: the noise only scales, so the information does too.
    const unit = noiseFactor(samples, { sd: 1, length, ownShare, grain }, half);
    const white = columns.map((c) => forward(unit, c));
    const withLevel = white.map((c) => dotOf(c, white[0]));
    const level = withLevel[0];
    // Level taken out of every column first, so that plain products of columns remain.
    const root = Math.sqrt(level);
    const toRoot = white[0].map((v) => v / root);
    for (let k = 1; k < white.length; k++) {
      const column = white[k];
      const share = withLevel[k] / root;
      for (let i = 0; i < column.length; i++) column[i] -= share * toRoot[i];
    }
    productsOf(white, terms, own);
    for (let k = 0; k < terms; k++) ownRight[k] = dotOf(white[k + 1], white[seen]);
    const squares = dotOf(white[seen], white[seen]);
    const evidenceOf = (sd: number, prior: (typeof believed)[number]): number => {
      const perVariance = 1 / sd ** 2;
      scaledPlus(own, perVariance, prior.information, information);
      const posterior = factorise(information, terms);
      const solved = forward(
        posterior,
        ownRight.map((v) => v * perVariance),
      );
      const logDeterminant =
        unit.logDeterminant +
        Math.log(level) +
        (samples.length - 1) * Math.log(sd ** 2) +
        posterior.logDeterminant -
        prior.logDeterminant;
      return -0.5 * (logDeterminant + squares / sd ** 2 - dotOf(solved, solved));
    };
    const compare = (sd: number, prior: (typeof believed)[number]): number => {
      const evidence = evidenceOf(sd, prior);
      if (evidence > bestEvidence) {
        bestEvidence = evidence;
        best = { sd, length, ownShare, grain, channels, strays: prior.strays };
      }
      return evidence;
    };
    for (const prior of [believed[0], believed[2]]) {
      // Belief has one peak over the standard deviations, so it is climbed, from where it lay last.
      const evidenceAt = (i: number): number => compare(roughSd * SD_FACTORS[i], prior);
      let here = evidenceAt(peak);
      for (const way of [-1, 1]) {
        const from = peak;
        for (let i = peak + way; i >= 0 && i < SD_FACTORS.length; i += way) {
          const next = evidenceAt(i);
          if (next <= here) break;
          [here, peak] = [next, i];
        }
        if (peak !== from) break;
      }
    }
    if (best.length !== length || best.ownShare !== ownShare || best.grain !== grain) return;
    // How far light strays is asked only where this form of noise is the likeliest so far; the answers are weighed.
    const { sd } = best;
    const tried = believed.map((prior) => ({
      strays: prior.strays,
      evidence: Math.max(...[0.7, 1, 1.4].map((step) => evidenceOf(sd * step, prior))),
    }));
    const most = Math.max(...tried.map((t) => t.evidence));
    const beliefs = tried.map((t) => Math.exp(t.evidence - most));
    const total = beliefs.reduce((s, w) => s + w, 0);
    const square = tried.reduce((s, t, i) => s + beliefs[i] * t.strays ** 2, 0) / total;
    best = { ...best, strays: Math.sqrt(square) };
  };
  for (const length of LENGTHS) for (const ownShare of OWN_SHARES) consider(length, ownShare, null);
  const { length, ownShare } = best;
  for (let d = 0; d < GRAIN_DIRECTIONS; d++)
    for (const shorter of [1, 0.4]) consider(length * shorter, ownShare, (Math.PI * d) / GRAIN_DIRECTIONS);
  return best;
};
