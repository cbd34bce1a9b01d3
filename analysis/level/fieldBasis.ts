import type { Neighbourhood } from './neighbourhood.ts';
import { remembered } from './remembered.ts';

/** Terms of table light in a photo of given size, and what is believed of each before anything is seen. */
export interface FieldBasis {
  /** The terms at a place; the first is 1, the level. */
  readonly at: (x: number, y: number) => Float64Array;
  /**
   * Standard deviations of the terms' coefficients, ln light, all but the level's.
   * @param strays how far light and dark places stray from a smooth field, in ln light.
   */
  readonly priorSd: (strays: number) => readonly number[];
  /** What is expected of them. */
  readonly priorMean: readonly number[];
}

/**
 * Light that falls off by 10–40 % across a photo [method §3] has slopes of 0.05 to 0.25 per half diagonal.
 */
const SMOOTH_SD = [0.16, 0.16, 0.09, 0.09, 0.09] as const;

/** Second-order terms by which light may also differ in colour. */
export const TINT_TERMS = 5;
/** Slope of the light's colour from warm to cool, ln per half diagonal. */
const TINT_SD = 0.02;
/**
 * How far may the light's colour slope and curve? Warm lamps and cool windows differ far less in colour over a table than
 * light does in strength, and hardly ever towards green.
 *
 * @param tint 0 from warm to cool, 1 towards green. @param term 0 and 1 the slopes, 2 to 4 the curvatures.
 * @returns standard deviation, ln per half diagonal.
 */
export const tintSd = (tint: number, term: number): number =>
  TINT_SD * (tint === 0 ? 1 : 1 / 3) * (term < 2 ? 1 : 0.5);

/**
 * Light and dark places that no lamp alone makes, and what phones do to parts of a picture: bumps this far apart, in
 * half diagonals.
 */
const BUMP_SPACING = 0.2;

/**
 * How far phones even out a picture: ln gain per ln brightness of the neighbourhood, for each reach. They darken what lies
 * among bright things and never the other way; some don't do it at all. A hundredth lifts a strip ten times darker than
 * its table by 2 %.
 */
const EVENING_MEAN = -0.009;
const EVENING_SD = 0.02;

/** Middles of the bumps along one side of `length` half diagonals. */
const middles = (length: number): number[] => {
  const n = Math.max(2, Math.round(length / BUMP_SPACING));
  return Array.from({ length: n }, (_, i) => ((i + 0.5) / n - 0.5) * length);
};

/**
 * What is table light made of? A second-order field in (u, v), half diagonals from the photo's centre; smooth bumps about
 * it; and how bright the place's neighbourhood is, by which phones lighten and darken parts of a picture.
 *
 * @param around left out where it is not known.
 */
export const fieldBasis = (
  widthPx: number,
  heightPx: number,
  around: Neighbourhood | null = null,
): FieldBasis => {
  if (!around) return basisOf(widthPx, heightPx, null);
  const kept = basisAround.get(around);
  if (kept?.widthPx === widthPx && kept.heightPx === heightPx) return kept.basis;
  const basis = basisOf(widthPx, heightPx, around);
  basisAround.set(around, { widthPx, heightPx, basis });
  return basis;
};

/** One basis per photo: it remembers its terms at each place. */
const basisAround = new WeakMap<Neighbourhood, { widthPx: number; heightPx: number; basis: FieldBasis }>();

const basisOf = (widthPx: number, heightPx: number, around: Neighbourhood | null): FieldBasis => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = middles(widthPx / half);
  const rows = middles(heightPx / half);
  const reach = BUMP_SPACING * 0.85;
  const bump = (far: number): number => Math.exp(-0.5 * (far / reach) ** 2);
  // Bumps overlap: at any place their squares add up to about π·reach²/spacing².
  const perStray = 1 / (Math.sqrt(Math.PI) * 0.85);
  const reaches = around ? around(0, 0).length : 0;
  const count = 6 + columns.length * rows.length + reaches;
  const across = new Float64Array(columns.length);
  const termsAt = (x: number, y: number): Float64Array => {
    const u = (x - widthPx / 2) / half;
    const v = (y - heightPx / 2) / half;
    const terms = new Float64Array(count);
    terms[0] = 1;
    terms[1] = u;
    terms[2] = v;
    terms[3] = u * u;
    terms[4] = u * v;
    terms[5] = v * v;
    for (let c = 0; c < across.length; c++) across[c] = bump(u - columns[c]);
    let at = 6;
    for (let r = 0; r < rows.length; r++) {
      const down = bump(v - rows[r]);
      for (let c = 0; c < across.length; c++) terms[at++] = across[c] * down;
    }
    if (around) terms.set(around(x, y), at);
    return terms;
  };
  return {
    at: remembered(termsAt),
    priorMean: [
      ...new Array<number>(SMOOTH_SD.length + columns.length * rows.length).fill(0),
      ...new Array<number>(reaches).fill(EVENING_MEAN),
    ],
    priorSd: (strays) => [
      ...SMOOTH_SD,
      ...new Array<number>(columns.length * rows.length).fill(strays * perStray),
      ...new Array<number>(reaches).fill(EVENING_SD),
    ],
  };
};

/** Inner product of two vectors of one length. */
export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};
