import { quantileSorted } from 'simple-statistics';

/** A number read off a curve with its 90 % interval. Null: not there to be read, or open on that side. */
export interface Figure {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Which interval holds 90 % of the draws? 5th to 95th percentile. A draw of null stands for "never": it counts as
 * endless, and where it reaches a percentile that side of the interval is open (null).
 *
 * @example figureOf(2, [1, 2, 3]) // { value: 2, low: 1, high: 3 }
 */
export function figureOf(value: number | null, draws: readonly (number | null)[]): Figure {
  const sorted = draws.map((draw) => draw ?? Number.POSITIVE_INFINITY).sort((a, b) => a - b);
  if (value === null || sorted.length === 0) return { value: null, low: null, high: null };
  const at = (share: number) => {
    const quantile = quantileSorted(sorted, share);
    return Number.isFinite(quantile) ? quantile : null;
  };
  return { value, low: at(0.05), high: at(0.95) };
}

const TWO_SIDED_90 = 1.6448536269514722;

/**
 * Which interval holds 90 % where a number has a standard uncertainty? ± 1.645 u, the normal distribution's.
 *
 * @example normalFigure(10, 1).low // 8.355
 */
export function normalFigure(value: number | null, u: number): Figure {
  return value === null
    ? { value, low: null, high: null }
    : { value, low: value - TWO_SIDED_90 * u, high: value + TWO_SIDED_90 * u };
}

/** Do two intervals part? Only then is a difference called one. An open side reaches without end. */
export function intervalsPart(one: Figure, other: Figure): boolean {
  if (one.value === null || other.value === null) return false;
  return endOf(one) < startOf(other) || endOf(other) < startOf(one);
}

function startOf(figure: Figure): number {
  return figure.low ?? Number.POSITIVE_INFINITY;
}

function endOf(figure: Figure): number {
  return figure.high ?? Number.POSITIVE_INFINITY;
}
