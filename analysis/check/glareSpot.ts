import type { Tiled } from '../tiles/tile.ts';
import { lnLight } from './lightGroups.ts';
import type { SmoothLight } from './smoothLight.ts';

/** A round spot of added light. */
export interface GlareSpot {
  readonly gain: number;
  /** How much lighter it makes the lightest place of its group than the darkest, ln light. */
  readonly lnLift: number;
  /** The same as light, a share of the brightest card patch or step. */
  readonly lift: number;
  /** Group in which its middle lies. */
  readonly group: number;
}

/** Radii tried, half diagonals. */
const RADII = [0.02, 0.045, 0.09];
/** Strengths tried, shares of white: a spot lifts the dark far more than the light, so the shape depends on it. */
const STRENGTHS = [0.04, 0.2, 0.6];

/** A card patch or step: how light it is, its samples, and a circle about them. */
interface Area {
  readonly group: number;
  readonly level: number;
  readonly most: number;
  readonly u: number;
  readonly v: number;
  readonly reach: number;
  readonly first: number;
  readonly last: number;
}

const areaOf = (light: SmoothLight, tiled: Tiled, group: number): Area => {
  const { u, v, from, groups } = light;
  const { of, index } = groups[group];
  const { tiles } = (of === 'card' ? tiled.card : tiled.steps)[index];
  let [low, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const tile of tiles) {
    const ln = lnLight(tile.rgb);
    low = Math.min(low, ln);
    most = Math.max(most, ln);
  }
  const [first, last] = [from[group], from[group + 1]];
  let [sumU, sumV, reach] = [0, 0, 0];
  for (let k = first; k < last; k++) {
    sumU += u[k];
    sumV += v[k];
  }
  const [middleU, middleV] = [sumU / (last - first), sumV / (last - first)];
  for (let k = first; k < last; k++) reach = Math.max(reach, Math.hypot(u[k] - middleU, v[k] - middleV));
  return { group, level: Math.exp(low), most: Math.exp(most), u: middleU, v: middleV, reach, first, last };
};

/** Fills `fall` with how much of a spot about a place falls on each sample of the areas near it. */
const fillFall = (
  { u, v }: SmoothLight,
  near: readonly Area[],
  cu: number,
  cv: number,
  radius: number,
  fall: Float64Array,
): void => {
  for (const { first, last } of near)
    for (let k = first; k < last; k++)
      fall[k] = Math.exp(-((u[k] - cu) ** 2 + (v[k] - cv) ** 2) / radius ** 2);
};

/** Fills `shape` with what a spot of that fall and so much light does to ln light. */
const fillShape = (near: readonly Area[], added: number, fall: Float64Array, shape: Float64Array): void => {
  for (const { first, last, level } of near)
    for (let k = first; k < last; k++) shape[k] = Math.log1p((added * fall[k]) / level);
};

const spanOf = (shape: Float64Array, { first, last }: Area): number => {
  let [low, high] = [shape[first], shape[first]];
  for (let k = first + 1; k < last; k++) {
    if (shape[k] < low) low = shape[k];
    if (shape[k] > high) high = shape[k];
  }
  return high - low;
};

const brightestOf = ({ left }: SmoothLight, { first, last }: Area): number => {
  let brightest = first;
  for (let k = first + 1; k < last; k++) if (left[k] > left[brightest]) brightest = k;
  return brightest;
};

/**
 * Which round spot of added light explains best what smooth light leaves?
 *
 * @param tiled gives the level of each patch: added light weighs more on the dark.
 */
export const bestSpot = (light: SmoothLight, tiled: Tiled): GlareSpot | null => {
  const { u, v, groups } = light;
  const [shape, fall] = [new Float64Array(u.length), new Float64Array(u.length)];
  const areas = groups.flatMap(({ of }, j) => (of === 'surround' ? [] : [areaOf(light, tiled, j)]));
  const white = Math.max(0, ...areas.map(({ most }) => most));
  let best: GlareSpot | null = null;
  for (const area of areas) {
    const brightest = brightestOf(light, area);
    for (const [cu, cv] of [
      [area.u, area.v],
      [u[brightest], v[brightest]],
    ])
      for (const radius of RADII) {
        const near = areas.filter((one) => Math.hypot(one.u - cu, one.v - cv) < one.reach + 2.5 * radius);
        fillFall(light, near, cu, cv, radius, fall);
        const [from, to] = [near[0].first, near[near.length - 1].last];
        shape.fill(0, from, to);
        for (const strength of STRENGTHS) {
          fillShape(near, strength * white, fall, shape);
          const { gain, size } = light.explain(shape, from, to);
          if (size <= 0 || gain <= (best?.gain ?? 0)) continue;
          const lnLift = size * spanOf(shape, area);
          best = { gain, lnLift, lift: (area.level * Math.expm1(lnLift)) / white, group: area.group };
        }
      }
  }
  return best;
};
