import type { Neighbourhood } from './neighbourhood.ts';

/** Terms of table light in a photo of given size, and what is believed of each before anything is seen. */
export interface FieldBasis {
  /** The terms at a place; the first is 1, the level. */
  readonly at: (x: number, y: number) => number[];
  /**
   * Standard deviations of the terms' coefficients, ln light, all but the level's.
   * @param strays how far light and dark places stray from a smooth field, in ln light.
   */
  readonly priorSd: (strays: number) => readonly number[];
}

/**
 * Light that falls off by 10–40 % across a photo [method §3] has slopes of 0.05 to 0.25 per half diagonal.
 */
const SMOOTH_SD = [0.16, 0.16, 0.09, 0.09, 0.09] as const;

/**
 * Light and dark places that no lamp alone makes, and what phones do to parts of a picture: bumps this far apart, in
 * half diagonals.
 */
const BUMP_SPACING = 0.2;

/**
 * How far phones even out a picture: ln gain per ln brightness of the neighbourhood, for each reach. A twentieth lifts a
 * strip ten times darker than its table by a tenth.
 */
const EVENING_SD = 0.03;

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
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = middles(widthPx / half);
  const rows = middles(heightPx / half);
  const reach = BUMP_SPACING * 0.85;
  const bump = (far: number): number => Math.exp(-0.5 * (far / reach) ** 2);
  // Bumps overlap: at any place their squares add up to about π·reach²/spacing².
  const perStray = 1 / (Math.sqrt(Math.PI) * 0.85);
  const reaches = around ? around(0, 0).length : 0;
  return {
    at: (x, y) => {
      const u = (x - widthPx / 2) / half;
      const v = (y - heightPx / 2) / half;
      const terms = [1, u, v, u * u, u * v, v * v];
      const across = columns.map((c) => bump(u - c));
      for (const r of rows) {
        const down = bump(v - r);
        for (const a of across) terms.push(a * down);
      }
      if (around) terms.push(...around(x, y));
      return terms;
    },
    priorSd: (strays) => [
      ...SMOOTH_SD,
      ...new Array<number>(columns.length * rows.length).fill(strays * perStray),
      ...new Array<number>(reaches).fill(EVENING_SD),
    ],
  };
};

export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};
