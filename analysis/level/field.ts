import type { Rgb } from '../photo/photo.ts';
import {
  BRIGHTNESS,
  between,
  type ChannelNoise,
  type Channels,
  GREY_NOISE,
  TINTS,
  weighed,
} from './channels.ts';
import { dotAt, dotOf, factorise, forward, solveBy } from './cholesky.ts';
import { fieldBasis, TINT_TERMS, tintSd } from './fieldBasis.ts';
import type { Neighbourhood } from './neighbourhood.ts';
import { type PreparedSurface, prepareSurface } from './preparedSurface.ts';
import { remembered } from './remembered.ts';
import type { SurfaceNoise } from './surfaceNoise.ts';

/** A place with ln light in three channels. */
export interface FieldSample {
  readonly x: number;
  readonly y: number;
  readonly logs: Channels;
}

/**
 * Samples of one surface, whose reflectance is not known, so that only differences between them count.
 * The noise about a smooth field is what the surface itself varies: it hangs together over some length.
 */
export interface FieldGroup {
  readonly samples: readonly FieldSample[];
  readonly noise: SurfaceNoise;
}

/** Places seen of one surface, and what they and its noise decide. */
export interface FieldSurface {
  readonly places: readonly { readonly x: number; readonly y: number }[];
  readonly noise: SurfaceNoise;
  readonly prepared: PreparedSurface;
}

/** Where a surface was seen and in what recorded light, before any camera tone is taken out. */
export interface LightSource {
  readonly cells: readonly { readonly x: number; readonly y: number; readonly rgb: Rgb }[];
  readonly noise: SurfaceNoise;
}

/** Pixels of the upright photo. */
export type Place = readonly [x: number, y: number];

/** Smooth light over the table: ln light relative to `anchor`, and the covariance of what is not known of it. */
export interface Field {
  readonly logLight: (x: number, y: number) => Channels;
  /** Covariance of ln light (relative to the anchor) between two places. */
  readonly covariance: (a: Place, b: Place) => number;
  /** The part of it that goes with an unknown slant: what changes its sign where card and strip are turned end for end. */
  readonly slantCovariance: (a: Place, b: Place) => number;
}

/** What the bumps of the basis leave out: its share of the light's straying, and the length over which it changes. */
const UNSMOOTH_SHARE = 0.45;
const UNSMOOTH_LENGTH = 0.12;

/** Taken where nothing in the photo tells. */
export const USUAL_STRAYS = 0.012;

/** What light is made of: its colour, two ways, and its brightness. */
const PARTS: readonly Channels[] = [...TINTS, BRIGHTNESS];

/** ln light, weighted for one part of light. */
const channelSum = (logs: readonly Channels[], noise: ChannelNoise, part: Channels): Float64Array => {
  const of = (c: 0 | 1 | 2): number => noise[c][0] * part[0] + noise[c][1] * part[1] + noise[c][2] * part[2];
  const weights: Channels = [of(0), of(1), of(2)];
  const sums = new Float64Array(logs.length);
  for (let i = 0; i < sums.length; i++) sums[i] = weighed(weights, logs[i]);
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

/** Light over the table before any is seen: all that places and noise decide, so that many fits have it once. */
export interface PreparedField {
  /** The light that explains these ln values: one list per surface, one entry per place. */
  readonly fit: (logs: readonly (readonly Channels[])[]) => Field;
  readonly covariance: Field['covariance'];
}

/**
 * What do the places seen, and how their surfaces vary, decide of the light over a table? Everything but the light:
 * camera tones and flares that are tried one after the other share it.
 *
 * @param surfaces may be none: the answer is then the prior alone. @param anchor place where ln light is 0.
 * @param around how bright each place's neighbourhood is; left out where it is not known.
 * @param strays how far light strays from a smooth field, ln light.
 */
export const prepareField = (
  widthPx: number,
  heightPx: number,
  surfaces: readonly FieldSurface[],
  anchor: Place,
  around: Neighbourhood | null = null,
  strays = USUAL_STRAYS,
): PreparedField => {
  const basis = fieldBasis(widthPx, heightPx, around);
  const half = Math.hypot(widthPx, heightPx) / 2;
  const priorSd = basis.priorSd(strays);
  const terms = priorSd.length;
  // Unknowns: the colour's slopes and curvatures first, so that brightness by itself is the lower right of the factor.
  const ahead = TINTS.length * TINT_TERMS;
  const count = ahead + terms;
  const blockOf = (part: number): readonly [first: number, size: number] =>
    part < TINTS.length ? [part * TINT_TERMS, TINT_TERMS] : [ahead, terms];
  const information = new Float64Array(count * count);
  for (let k = 0; k < count; k++) {
    const sd = k < ahead ? tintSd(Math.floor(k / TINT_TERMS), k % TINT_TERMS) : priorSd[k - ahead];
    information[k * count + k] = 1 / sd ** 2;
  }
  for (const { places, noise, prepared } of surfaces) {
    if (places.length < 2) continue;
    PARTS.forEach((part, p) => {
      for (let o = 0; o <= p; o++) {
        const share = between(part, noise.channels ?? GREY_NOISE, PARTS[o]);
        addBlock(information, count, ...blockOf(p), ...blockOf(o), prepared.information, share);
      }
    });
  }
  const posterior = factorise(information, count);
  const from = basis.at(anchor[0], anchor[1]);
  const relative = remembered((x, y) => {
    const here = basis.at(x, y);
    const column = new Float64Array(count);
    for (let k = 0; k < terms; k++) column[ahead + k] = here[k + 1] - from[k + 1];
    return column;
  });
  /** What a place's terms leave open, as a column whose products are covariances. */
  const open = remembered((x, y) => forward(posterior, relative(x, y)));
  const unit = (k: number): Float64Array => {
    const column = new Float64Array(count);
    column[ahead + k] = 1;
    return solveBy(posterior, column);
  };
  const [alongX, alongY] = [unit(0), unit(1)];
  const [slantXX, slantXY, slantYY] = [alongX[ahead], alongX[ahead + 1], alongY[ahead + 1]];
  const slantDeterminant = slantXX * slantYY - slantXY * slantXY;
  /** How what is open at a place hangs together with the two slopes: the rest of it then hangs together with neither. */
  const withSlant = ([x, y]: Place): readonly [number, number] => {
    const column = relative(x, y);
    return [dotOf(alongX, column), dotOf(alongY, column)];
  };
  const alike = (a: Place, b: Place) =>
    Math.exp(-0.5 * (Math.hypot(a[0] - b[0], a[1] - b[1]) / half / UNSMOOTH_LENGTH) ** 2);
  const covariance = (a: Place, b: Place): number =>
    dotOf(open(a[0], a[1]), open(b[0], b[1])) +
    (UNSMOOTH_SHARE * strays) ** 2 * (alike(a, b) - alike(a, anchor) - alike(b, anchor) + 1);
  const slantCovariance = (a: Place, b: Place): number => {
    const [ax, ay] = withSlant(a);
    const [bx, by] = withSlant(b);
    return (ax * (slantYY * bx - slantXY * by) + ay * (slantXX * by - slantXY * bx)) / slantDeterminant;
  };
  return {
    covariance,
    fit: (logs) => {
      const right = new Float64Array(count);
      for (let k = 0; k < terms; k++) right[ahead + k] = basis.priorMean[k] / priorSd[k] ** 2;
      surfaces.forEach(({ places, noise, prepared }, s) => {
        if (places.length < 2) return;
        PARTS.forEach((part, p) => {
          const seen = channelSum(logs[s], noise.channels ?? GREY_NOISE, part);
          const [first, size] = blockOf(p);
          for (let k = 0; k < size; k++) right[first + k] += dotOf(prepared.weights[k], seen);
        });
      });
      const coefficients = solveBy(posterior, right);
      return {
        logLight: (x, y) => {
          const here = relative(x, y);
          const brightness = dotAt(coefficients, ahead, here, ahead, terms);
          const warm = dotAt(coefficients, 0, here, ahead, TINT_TERMS);
          const green = dotAt(coefficients, TINT_TERMS, here, ahead, TINT_TERMS);
          const of = (c: 0 | 1 | 2): number => brightness + warm * TINTS[0][c] + green * TINTS[1][c];
          return [of(0), of(1), of(2)];
        },
        covariance,
        slantCovariance,
      };
    },
  };
};

/** How does the light change over the table? `prepareField` and one fit, for surfaces that are looked at once. */
export const fitField = (
  widthPx: number,
  heightPx: number,
  groups: readonly FieldGroup[],
  anchor: Place,
  around: Neighbourhood | null = null,
  strays = USUAL_STRAYS,
): Field => {
  const surfaces = groups.map(({ samples, noise }) => ({
    places: samples,
    noise,
    prepared: prepareSurface(widthPx, heightPx, samples, noise, around),
  }));
  return prepareField(widthPx, heightPx, surfaces, anchor, around, strays).fit(
    groups.map(({ samples }) => samples.map(({ logs }) => logs)),
  );
};
