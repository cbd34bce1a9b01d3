import type { ClothBand } from '../tiles/clothBands.ts';
import type { Tiled } from '../tiles/tile.ts';
import { baseCloth, cardEndGroups, clothGroup } from './clothField.ts';
import { type Field, type FieldGroup, fitField, type Place } from './field.ts';
import type { Illumination } from './levelled.ts';
import { logOfRgb, type ToSceneLogs } from './sceneLogs.ts';
import {
  type SettledSurface,
  type SurroundSurface,
  settleSurface,
  surroundGroup,
  surroundSurface,
} from './surroundField.ts';

/** Relative uncertainty of the light in a step beyond which the reader is warned. */
const WELL_EVENED = 0.05;

/** What in the photo tells of the table light. */
export interface LightSources {
  readonly surface: SurroundSurface | { readonly reason: string };
  readonly cloth: readonly ClothBand[] | null;
  readonly twoCards: boolean;
}

export const lightSources = (tiled: Tiled, seed: number): LightSources => ({
  surface: surroundSurface(tiled, seed),
  cloth: baseCloth(tiled),
  twoCards: cardEndGroups(tiled, (recorded) => recorded).length > 0,
});

/** The sources, the surround's outliers dropped and its own noise judged. */
export interface SettledLight extends LightSources {
  readonly settled: SettledSurface | null;
}

/** @param judge false for a first look. */
export const settleLight = (
  tiled: Tiled,
  sources: LightSources,
  toScene: ToSceneLogs,
  judge: boolean,
): SettledLight => ({
  ...sources,
  settled: 'cells' in sources.surface ? settleSurface(tiled, sources.surface, toScene, judge) : null,
});

/** Tiles within each mark: dye and cloth vary over a step as light does, so a tile's spread counts threefold. */
const withinGroups = (tiled: Tiled, toScene: ToSceneLogs): FieldGroup[] =>
  [...tiled.card, ...tiled.steps].map((patch) => {
    const samples = patch.tiles.map((t) => ({ x: t.x, y: t.y, logs: toScene(logOfRgb(t.rgb)) }));
    const mean = samples.reduce((s, l) => s + l.logs[1], 0) / samples.length;
    const sd = Math.sqrt(
      samples.reduce((s, l) => s + (l.logs[1] - mean) ** 2, 0) / Math.max(1, samples.length - 1),
    );
    return { samples, noise: { sd: 3 * Math.max(sd, 0.01), length: 0, ownShare: 1, grain: null } };
  });

/**
 * The light over the table from all that tells of it: the surround, base cloth along the strip, cards at both ends;
 * the change within each mark where there is no surround.
 */
export const lightField = (tiled: Tiled, light: SettledLight, toScene: ToSceneLogs, anchor: Place): Field =>
  fitField(
    tiled.widthPx,
    tiled.heightPx,
    [
      ...(light.settled ? [surroundGroup(light.settled, toScene)] : withinGroups(tiled, toScene)),
      ...(light.cloth ? [clothGroup(light.cloth, toScene)] : []),
      ...cardEndGroups(tiled, toScene),
    ],
    anchor,
  );

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** Which source carried the answer, and what was done in words. */
const carriedBy = (
  light: SettledLight,
): { readonly method: Illumination['method']; readonly how: string } => {
  if (light.settled)
    return {
      method: 'surround',
      how: `the table around card and strip varies by ${percent(light.settled.noise.sd)} of itself`,
    };
  const lacking = 'reason' in light.surface ? light.surface.reason : '';
  if (light.cloth)
    return { method: 'base-cloth', how: `${lacking}, so unexposed cloth along the strip was used` };
  if (light.twoCards) return { method: 'card-ends', how: `${lacking}, so the two cards were compared` };
  return {
    method: 'within-patches',
    how: `${lacking}, so only the change of light within each patch and step could be used`,
  };
};

/** How the table light was evened out, and how much that leaves open. @param places card patches and steps. */
export const describeLight = (light: SettledLight, field: Field, places: readonly Place[]): Illumination => {
  const { method, how } = carriedBy(light);
  const logs = places.map(([x, y]) => field.logLight(x, y)[1]);
  const relativeU = Math.sqrt(Math.max(...places.map((p) => field.covariance(p, p))));
  return {
    method,
    accepted: method !== 'within-patches' && relativeU < WELL_EVENED,
    reason: `${how}, which leaves ${percent(relativeU)} open`,
    fallOffRatio: Math.exp(Math.max(...logs) - Math.min(...logs)),
    relativeU,
  };
};
