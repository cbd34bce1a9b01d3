import { interval90 } from '../advice/interval.ts';
import { shapeLightness } from '../curve/shape.ts';
import type { RecordedCurve } from './recorded.ts';

/** L* after one time, with the 90 % interval of the curve there. */
export interface BandPoint {
  readonly seconds: number;
  readonly L: number;
  readonly low: number;
  readonly high: number;
}

/** How many times, in equal ratios, a band is told at. */
const TIMES = 33;
/** How far past the strip's ends a band is told. */
const BEYOND = 1.3;

/**
 * How surely is this curve known, time by time? At 33 times in equal ratios from 1/1.3 of the shortest exposed step to
 * 1.3 times the longest: the curve's L*, and the 5th and 95th percentile of L* over the curves that the strip could as
 * well have shown. Each time is taken by itself: the true curve lies inside at nine times in ten, not as a whole. Where
 * the curve itself lies beyond a percentile the band is widened up to it.
 *
 * @see method.md §8, §9
 * @example curveBand({ curve, set }).length // 33
 */
export function curveBand({ curve, set }: RecordedCurve): BandPoint[] {
  const from = curve.shortestSeconds / BEYOND;
  const ratio = (curve.longestSeconds * BEYOND) / from;
  return Array.from({ length: TIMES }, (_, i) => {
    const seconds = from * ratio ** (i / (TIMES - 1));
    const L = shapeLightness(curve.shape, seconds);
    const drawn = set.shapes.map((shape) => shapeLightness(shape, seconds));
    if (drawn.length === 0) return { seconds, L, low: L, high: L };
    const { low, high } = interval90(drawn);
    return { seconds, L, low: Math.min(low, L), high: Math.max(high, L) };
  });
}
