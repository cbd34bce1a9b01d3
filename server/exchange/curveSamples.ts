import { interval90 } from '../../analysis/advice/interval.ts';
import { bootstrapCurve } from '../../analysis/curve/bootstrap.ts';
import type { Curve } from '../../analysis/curve/curve.ts';
import { colourAt, depthPercent } from '../../analysis/curve/evaluate.ts';
import { shapeLightness } from '../../analysis/curve/shape.ts';

/** One place along a curve, with the 90 % interval of its L*. */
export interface CurveSample {
  readonly seconds: number;
  /** Stops above the shortest exposed step; null for no exposure. */
  readonly stops: number | null;
  readonly L: number;
  readonly a: number;
  readonly b: number;
  readonly lowL: number;
  readonly highL: number;
  readonly depthPercent: number;
  /** False where the curve is drawn on past the strip's own steps. */
  readonly onStrip: boolean;
}

const STOPS_BEFORE = 1;
const STOPS_BEYOND = 1;

/**
 * What does the curve say from one stop before the shortest step to one stop beyond the longest, and how surely?
 *
 * @param perStop samples per stop, 12 unless told; the steps at either end of the strip are met exactly.
 * @param seed of the bootstrap behind the interval: same seed, same numbers.
 * @returns in rising exposure; the first is the unexposed cloth.
 */
export const curveSamples = (curve: Curve, perStop = 12, seed = 1): readonly CurveSample[] => {
  const { shortestSeconds, longestSeconds } = curve;
  const { shapes } = bootstrapCurve(curve, { seed });
  const range = Math.log2(longestSeconds / shortestSeconds);
  const inside = Math.max(1, Math.round(range * perStop));
  const stops = [
    ...Array.from({ length: STOPS_BEFORE * perStop }, (_, i) => i / perStop - STOPS_BEFORE),
    ...Array.from({ length: inside + 1 }, (_, i) => (i / inside) * range),
    ...Array.from({ length: STOPS_BEYOND * perStop }, (_, i) => range + (i + 1) / perStop),
  ];
  const at = (seconds: number, stop: number | null): CurveSample => {
    const { low, high } = interval90(shapes.map((shape) => shapeLightness(shape, seconds)));
    const colour = colourAt(curve, seconds);
    return {
      seconds,
      stops: stop,
      ...colour,
      lowL: low,
      highL: high,
      depthPercent: depthPercent(curve, colour.L),
      onStrip: stop === null ? curve.baseSeen : stop >= 0 && stop <= range,
    };
  };
  return [at(0, null), ...stops.map((stop) => at(shortestSeconds * 2 ** stop, stop))];
};
