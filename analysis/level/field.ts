import type { Rgb } from '../photo/photo.ts';
import {
  BRIGHTNESS,
  between,
  brightnessWeights,
  type ChannelNoise,
  type Channels,
  GREY_NOISE,
  TINTS,
} from './channels.ts';
import { dotAt, type Factor, factorise, forward, solveBy } from './cholesky.ts';
import { type FieldBasis, fieldBasis } from './fieldBasis.ts';
import type { Neighbourhood } from './neighbourhood.ts';

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

/** Where a surface was seen and in what recorded light, before any camera tone is taken out. */
export interface LightSource {
  readonly cells: readonly { readonly x: number; readonly y: number; readonly rgb: Rgb }[];
  readonly noise: SurfaceNoise;
}

/** What places and noise alone decide of a fit, so that many fits of the same surface need it once. */
export interface PreparedSurface {
  /** Information on the field's terms, the surface's level eliminated; the lower triangle. */
  readonly information: readonly Float64Array[];
  /** Terms × samples: weights by which ln light enters the right-hand side, the level eliminated. */
  readonly weights: readonly Float64Array[];
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
  /** How it divides among the channels; mostly light and shade where missing. */
  readonly channels?: ChannelNoise;
}

/** Pixels of the upright photo. */
export type Place = readonly [x: number, y: number];

/** Smooth light over the table: ln light relative to `anchor`, and the covariance of what is not known of it. */
export interface Field {
  readonly logLight: (x: number, y: number) => readonly [number, number, number];
  /** Covariance of ln light (relative to the anchor) between two places. */
  readonly covariance: (a: Place, b: Place) => number;
  /** The part of it that goes with an unknown slant: what changes its sign where card and strip are turned end for end. */
  readonly slantCovariance: (a: Place, b: Place) => number;
}

/** What the bumps of the basis leave out: its share of the light's straying, and the length over which it changes. */
const UNSMOOTH_SHARE = 0.35;
const UNSMOOTH_LENGTH = 0.12;

/** How much further wood or weave hangs together along its grain than across it. */
const GRAIN_RATIO = 6;

/** Second-order terms by which light may also differ in colour. */
const TINT_TERMS = 5;
/**
 * Slopes and curvatures of the light's colour, ln per half diagonal: warm lamps and cool windows differ far less in colour
 * over a table than light does in strength, and hardly ever towards green.
 */
const TINT_SD = 0.02;
const tintSd = (tint: number, term: number): number =>
  TINT_SD * (tint === 0 ? 1 : 1 / 3) * (term < 2 ? 1 : 0.5);

const dot = (a: Float64Array, b: Float64Array): number => dotAt(a, 0, b, 0, a.length);

/** The factor of the noise's covariance between places. */
const noiseFactor = (
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
  half: number,
): Factor => {
  const n = places.length;
  const variance = noise.sd ** 2;
  const shared = variance * (1 - noise.ownShare);
  const v = new Float64Array(n * n);
  // Places as the surface's grain sees them; without grain as they are.
  const [cos, sin] = noise.grain === null ? [1, 0] : [Math.cos(noise.grain), Math.sin(noise.grain)];
  const alongUnit = noise.grain === null ? 1 : GRAIN_RATIO;
  const along = Float64Array.from(places, ({ x, y }) => (x * cos + y * sin) / alongUnit);
  const across = Float64Array.from(places, ({ x, y }) => y * cos - x * sin);
  const perLength = -1 / (half * noise.length);
  for (let i = 0; i < n; i++) {
    v[i * n + i] = variance;
    for (let j = 0; j < i; j++) {
      const dx = along[i] - along[j];
      const dy = across[i] - across[j];
      v[i * n + j] = shared * Math.exp(perLength * Math.sqrt(dx * dx + dy * dy));
    }
  }
  return factorise(v, n);
};

// Loops of their own outside any closure: a closure's compiled form is lost with it, at the next collection of memory.

/** Products of the columns 1 to `terms` with each other, the lower triangle. */
const productsOf = (white: readonly Float64Array[], terms: number, to: Float64Array): void => {
  for (let k = 0; k < terms; k++)
    for (let l = 0; l <= k; l++) to[k * terms + l] = dot(white[k + 1], white[l + 1]);
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

/** Columns weighted by the inverse of the noise's covariance. */
const weightedBy = (
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
  half: number,
  columns: readonly Float64Array[],
): Float64Array[] => {
  if (noise.length === 0) {
    const weight = 1 / noise.sd ** 2;
    return columns.map((column) => {
      const weighted = new Float64Array(column.length);
      for (let i = 0; i < weighted.length; i++) weighted[i] = column[i] * weight;
      return weighted;
    });
  }
  const factor = noiseFactor(places, noise, half);
  return columns.map((c) => solveBy(factor, c));
};

/** Columns of the terms, one array per term, the level first. */
const termColumns = (
  places: readonly { readonly x: number; readonly y: number }[],
  basis: FieldBasis,
): Float64Array[] => {
  const rows = places.map((p) => basis.at(p.x, p.y));
  return Array.from(rows[0], (_, k) => {
    const column = new Float64Array(rows.length);
    for (let i = 0; i < rows.length; i++) column[i] = rows[i][k];
    return column;
  });
};

/** How much samples at these places, with this noise, tell of the field's terms. */
export const prepareSurface = (
  widthPx: number,
  heightPx: number,
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
  around: Neighbourhood | null = null,
): PreparedSurface => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = termColumns(places, fieldBasis(widthPx, heightPx, around));
  const weighted = weightedBy(places, noise, half, columns);
  // Column 0 is the surface's own level: eliminate it.
  const level = dot(columns[0], weighted[0]);
  const withLevel = columns.map((c) => dot(c, weighted[0]));
  const terms = columns.slice(1);
  return {
    information: terms.map((c, k) => {
      const row = new Float64Array(k + 1);
      for (let l = 0; l <= k; l++)
        row[l] = dot(c, weighted[l + 1]) - (withLevel[k + 1] * withLevel[l + 1]) / level;
      return row;
    }),
    weights: terms.map((_, k) => {
      const share = withLevel[k + 1] / level;
      const without = new Float64Array(places.length);
      for (let i = 0; i < without.length; i++) without[i] = weighted[k + 1][i] - share * weighted[0][i];
      return without;
    }),
  };
};

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
/** Light that strays further is rarer: twice the loss of ln belief per ln light. */
const RARITY = 20;
/** Taken where nothing in the photo tells. */
export const USUAL_STRAYS = 0.012;

/** How a surface varies of itself, and how far the light on it strays from a smooth field. */
export interface JudgedNoise extends SurfaceNoise {
  readonly strays: number;
}

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
  const [red, greenShare, blue] = brightnessWeights(channels);
  const half = Math.hypot(widthPx, heightPx) / 2;
  const basis = fieldBasis(widthPx, heightPx, around);
  const columns = [
    ...termColumns(samples, basis),
    Float64Array.from(samples, ({ logs }) => red * logs[0] + greenShare * logs[1] + blue * logs[2]),
  ];
  const terms = columns.length - 2;
  const green = terms + 1;
  const believed = STRAYS.map((strays) => {
    // What the weighting makes of light that differs in colour looks like more slope.
    const leaks = TINTS.map((tint) => red * tint[0] + greenShare * tint[1] + blue * tint[2]);
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
    const withLevel = white.map((c) => dot(c, white[0]));
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
    for (let k = 0; k < terms; k++) ownRight[k] = dot(white[k + 1], white[green]);
    const squares = dot(white[green], white[green]);
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
      return -0.5 * (logDeterminant + squares / sd ** 2 - dot(solved, solved));
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
    const weights = tried.map((t) => Math.exp(t.evidence - most));
    const total = weights.reduce((s, w) => s + w, 0);
    const square = tried.reduce((s, t, i) => s + weights[i] * t.strays ** 2, 0) / total;
    best = { ...best, strays: Math.sqrt(square) };
  };
  for (const length of LENGTHS) for (const ownShare of OWN_SHARES) consider(length, ownShare, null);
  const { length, ownShare } = best;
  for (let d = 0; d < GRAIN_DIRECTIONS; d++)
    for (const shorter of [1, 0.4]) consider(length * shorter, ownShare, (Math.PI * d) / GRAIN_DIRECTIONS);
  return best;
};

/** What light is made of: its colour, two ways, and its brightness. */
const PARTS: readonly Channels[] = [...TINTS, BRIGHTNESS];

/** The samples' ln light, weighted for one part of light. */
const channelSum = (samples: readonly FieldSample[], noise: ChannelNoise, part: Channels): Float64Array => {
  const of = (c: 0 | 1 | 2): number => noise[c][0] * part[0] + noise[c][1] * part[1] + noise[c][2] * part[2];
  const [red, green, blue] = [of(0), of(1), of(2)];
  const sums = new Float64Array(samples.length);
  for (let i = 0; i < sums.length; i++) {
    const { logs } = samples[i];
    sums[i] = red * logs[0] + green * logs[1] + blue * logs[2];
  }
  return sums;
};

/** Adds a surface's information to a block of the lower triangle. */
const addBlock = (
  to: Float64Array,
  count: number,
  first: number,
  size: number,
  start: number,
  width: number,
  own: readonly Float64Array[],
  share: number,
): void => {
  for (let k = 0; k < size; k++)
    for (let l = 0; l < width; l++)
      if (start + l <= first + k)
        to[(first + k) * count + start + l] += share * (l <= k ? own[k][l] : own[l][k]);
};

/**
 * How does the light change over the table? A second-order field of ln light per channel, generalised least squares
 * with a weak prior on slopes and curvatures, each surface having an unknown reflectance of its own.
 *
 * @param groups may be empty: the answer is then the prior alone. @param anchor place where ln light is 0.
 * @param around how bright each place's neighbourhood is; left out where it is not known.
 * @param strays how far light strays from a smooth field, ln light.
 */
export const fitField = (
  widthPx: number,
  heightPx: number,
  groups: readonly FieldGroup[],
  anchor: Place,
  around: Neighbourhood | null = null,
  strays = USUAL_STRAYS,
): Field => {
  const basis = fieldBasis(widthPx, heightPx, around);
  const half = Math.hypot(widthPx, heightPx) / 2;
  const priorSd = basis.priorSd(strays);
  const terms = priorSd.length;
  // Unknowns: the colour's slopes and curvatures first, so that brightness by itself is the lower right of the factor.
  const ahead = TINTS.length * TINT_TERMS;
  const count = ahead + terms;
  const information = new Float64Array(count * count);
  for (let k = 0; k < count; k++) {
    const sd = k < ahead ? tintSd(Math.floor(k / TINT_TERMS), k % TINT_TERMS) : priorSd[k - ahead];
    information[k * count + k] = 1 / sd ** 2;
  }
  const right = new Float64Array(count);
  for (const group of groups) {
    if (group.samples.length < 2) continue;
    const { information: own, weights } =
      group.prepared ?? prepareSurface(widthPx, heightPx, group.samples, group.noise, around);
    const noise = group.noise.channels ?? GREY_NOISE;
    PARTS.forEach((part, p) => {
      const seen = channelSum(group.samples, noise, part);
      const [first, size] = p < TINTS.length ? [p * TINT_TERMS, TINT_TERMS] : [ahead, terms];
      for (let k = 0; k < size; k++) right[first + k] += dot(weights[k], seen);
      for (let o = 0; o <= p; o++) {
        const share = between(part, noise, PARTS[o]);
        const [start, width] = o < TINTS.length ? [o * TINT_TERMS, TINT_TERMS] : [ahead, terms];
        addBlock(information, count, first, size, start, width, own, share);
      }
    });
  }
  const posterior = factorise(information, count);
  const coefficients = solveBy(posterior, right);
  const from = basis.at(anchor[0], anchor[1]);
  const relative = (x: number, y: number): Float64Array => {
    const here = basis.at(x, y);
    const column = new Float64Array(count);
    for (let k = 0; k < terms; k++) column[ahead + k] = here[k + 1] - from[k + 1];
    return column;
  };
  /** Many pairs share their places: what a place's terms leave open, as a column whose products are covariances. */
  const openAt = new Map<string, Float64Array>();
  const open = ([x, y]: Place): Float64Array => {
    const key = `${x} ${y}`;
    const known = openAt.get(key);
    if (known) return known;
    const column = forward(posterior, relative(x, y));
    openAt.set(key, column);
    return column;
  };
  const unit = (k: number) =>
    solveBy(
      posterior,
      Float64Array.from(right, (_, i) => (i === ahead + k ? 1 : 0)),
    );
  const [alongX, alongY] = [unit(0), unit(1)];
  const [slantXX, slantXY, slantYY] = [alongX[ahead], alongX[ahead + 1], alongY[ahead + 1]];
  const slantDeterminant = slantXX * slantYY - slantXY * slantXY;
  /** How what is open at a place hangs together with the two slopes: the rest of it then hangs together with neither. */
  const withSlant = (place: Place): readonly [number, number] => {
    const terms = relative(place[0], place[1]);
    return [dot(alongX, terms), dot(alongY, terms)];
  };
  const alike = (a: Place, b: Place) =>
    Math.exp(-0.5 * (Math.hypot(a[0] - b[0], a[1] - b[1]) / half / UNSMOOTH_LENGTH) ** 2);
  return {
    logLight: (x, y) => {
      const here = relative(x, y);
      const brightness = dotAt(coefficients, ahead, here, ahead, terms);
      const warm = dotAt(coefficients, 0, here, ahead, TINT_TERMS);
      const green = dotAt(coefficients, TINT_TERMS, here, ahead, TINT_TERMS);
      const of = (c: 0 | 1 | 2): number => brightness + warm * TINTS[0][c] + green * TINTS[1][c];
      return [of(0), of(1), of(2)];
    },
    slantCovariance: (a, b) => {
      const [ax, ay] = withSlant(a);
      const [bx, by] = withSlant(b);
      return (ax * (slantYY * bx - slantXY * by) + ay * (slantXX * by - slantXY * bx)) / slantDeterminant;
    },
    covariance: (a, b) => {
      const smooth = dot(open(a), open(b));
      return (
        smooth + (UNSMOOTH_SHARE * strays) ** 2 * (alike(a, b) - alike(a, anchor) - alike(b, anchor) + 1)
      );
    },
  };
};
