import type { SmoothLight } from './smoothLight.ts';

/** A straight, soft edge in the light. */
export interface LightEdge {
  readonly gain: number;
  /** ln light beyond the edge against this side. */
  readonly lnStep: number;
  /** The part of the step that lies between card patches and steps. */
  readonly lnSpan: number;
  /** Direction in which one crosses it, radians in the photo, y down. */
  readonly angle: number;
  /** Place along that direction from the photo's middle, half diagonals. */
  readonly at: number;
  /** Half diagonals over which the light changes from 12 to 88 %. */
  readonly softness: number;
}

const DIRECTIONS = 9;
const OFFSET_STEP = 0.06;
const SOFTNESS = 0.07;
/** First steps of the finer search: radians, half diagonals, share of the softness. */
const TURN = 0.12;
const SHIFT = 0.03;
const SOFTEN = 0.5;
/** Light does not fall further in any shadow on a table. */
const DEEPEST = 1.6;

/** Fills `powers` with what the edge's shape takes the exponential of, were the edge in the photo's middle. */
const fillPowers = ({ u, v }: SmoothLight, angle: number, softness: number, powers: Float64Array): void => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const steep = -4 / softness;
  for (let k = 0; k < powers.length; k++) powers[k] = Math.exp(steep * (u[k] * c + v[k] * s));
};

/** Fills `shape` with an edge moved to a place: a logistic step. */
const fillShape = (powers: Float64Array, at: number, softness: number, shape: Float64Array): void => {
  const moved = Math.exp((4 * at) / softness);
  for (let k = 0; k < shape.length; k++) shape[k] = 1 / (1 + powers[k] * moved);
};

/** How far the shape comes up and down over the marks. */
const spanOf = (shape: Float64Array, marked: readonly (readonly [number, number])[]): number => {
  let [low, high] = [1, 0];
  for (const [first, last] of marked)
    for (let k = first; k < last; k++) {
      if (shape[k] < low) low = shape[k];
      if (shape[k] > high) high = shape[k];
    }
  return high - low;
};

/**
 * Which straight edge of a shadow explains best what smooth light leaves?
 *
 * Tried: directions and places on a coarse grid over the marks, then finer around the best, with its softness.
 */
export const bestEdge = (light: SmoothLight): LightEdge | null => {
  const { u, v, groups, from } = light;
  const [shape, powers] = [new Float64Array(u.length), new Float64Array(u.length)];
  const marked = groups.flatMap((g, j) => (g.of === 'surround' ? [] : [[from[j], from[j + 1]] as const]));
  let best: LightEdge | null = null;
  const consider = (angle: number, at: number, softness: number): void => {
    fillShape(powers, at, softness, shape);
    const { gain, size } = light.explain(shape);
    if (Math.abs(size) > DEEPEST || gain <= (best?.gain ?? 0)) return;
    best = { gain, lnStep: size, lnSpan: Math.abs(size) * spanOf(shape, marked), angle, at, softness };
  };
  for (let d = 0; d < DIRECTIONS; d++) {
    const angle = (Math.PI * d) / DIRECTIONS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const [first, last] of marked)
      for (let k = first; k < last; k++) {
        low = Math.min(low, u[k] * c + v[k] * s);
        high = Math.max(high, u[k] * c + v[k] * s);
      }
    fillPowers(light, angle, SOFTNESS, powers);
    for (let at = low; at <= high; at += OFFSET_STEP) consider(angle, at, SOFTNESS);
  }
  for (const finer of [1, 0.5, 0.25]) {
    const about = best as LightEdge | null;
    if (about === null) return null;
    for (const turn of [-TURN, 0, TURN])
      for (const soften of [1 - SOFTEN * finer, 1, 1 / (1 - SOFTEN * finer)]) {
        const [angle, softness] = [about.angle + turn * finer, about.softness * soften];
        fillPowers(light, angle, softness, powers);
        for (const shift of [-SHIFT, 0, SHIFT]) consider(angle, about.at + shift * finer, softness);
      }
  }
  return best;
};
