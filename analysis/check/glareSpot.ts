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

/**
 * Which round spot of added light explains best what smooth light leaves?
 *
 * @param tiled gives the level of each patch: added light weighs more on the dark.
 */
export const bestSpot = (light: SmoothLight, tiled: Tiled): GlareSpot | null => {
  const { u, v, groups, from } = light;
  const shape = new Float64Array(u.length);
  const areas = groups.map((g, j) => {
    if (g.of === 'surround') return null;
    const tiles = (g.of === 'card' ? tiled.card : tiled.steps)[g.index].tiles;
    const level = Math.exp(Math.min(...tiles.map((t) => lnLight(t.rgb))));
    const most = Math.exp(Math.max(...tiles.map((t) => lnLight(t.rgb))));
    const own = Array.from({ length: from[j + 1] - from[j] }, (_, i) => from[j] + i);
    const middle = [
      own.reduce((s, k) => s + u[k], 0) / own.length,
      own.reduce((s, k) => s + v[k], 0) / own.length,
    ];
    const reach = Math.max(...own.map((k) => Math.hypot(u[k] - middle[0], v[k] - middle[1])));
    return { level, most, middle, reach, own };
  });
  const white = Math.max(...areas.map((a) => a?.most ?? 0));
  let best: GlareSpot | null = null;
  areas.forEach((area, j) => {
    if (area === null) return;
    const [mu, mv] = area.middle;
    const brightest = area.own.reduce((b, k) => (light.left[k] > light.left[b] ? k : b));
    const places = [
      [mu, mv],
      [u[brightest], v[brightest]],
    ];
    for (const [cu, cv] of places)
      for (const radius of RADII) {
        const near = areas.flatMap((a, i) =>
          a !== null && Math.hypot(a.middle[0] - cu, a.middle[1] - cv) < a.reach + 2.5 * radius ? [i] : [],
        );
        for (const strength of STRENGTHS) {
          shape.fill(0);
          for (const i of near)
            for (let k = from[i]; k < from[i + 1]; k++) {
              const far2 = ((u[k] - cu) ** 2 + (v[k] - cv) ** 2) / radius ** 2;
              shape[k] = Math.log1p((strength * white * Math.exp(-far2)) / areas[i]!.level);
            }
          const { gain, size } = light.explain(shape, from[near[0]], from[near[near.length - 1] + 1]);
          if (size <= 0 || gain <= (best?.gain ?? 0)) continue;
          const own = area.own.map((k) => shape[k]);
          const lnLift = size * (Math.max(...own) - Math.min(...own));
          best = { gain, lnLift, lift: (area.level * Math.expm1(lnLift)) / white, group: j };
        }
      }
  });
  return best;
};
