import { type Phrase, phrase } from '../phrases.ts';
import type { ClothBand } from '../tiles/clothBands.ts';
import type { Tiled } from '../tiles/tile.ts';
import { baseCloth, cardEndSources, clothSource } from './clothField.ts';
import {
  type Field,
  type FieldSurface,
  type LightSource,
  type Place,
  type PreparedField,
  prepareField,
} from './field.ts';
import type { Illumination } from './levelled.ts';
import { type Neighbourhood, neighbourhood } from './neighbourhood.ts';
import { prepareSurface } from './preparedSurface.ts';
import { logOfRgb, type ToSceneLogs } from './sceneLogs.ts';
import {
  type LackingSurface,
  type SettledSurface,
  type SurroundSurface,
  settleSurface,
  surroundSurface,
} from './surroundField.ts';

/** Relative uncertainty of the light in a step beyond which the reader is warned. */
const WELL_EVENED = 0.05;

/** What in the photo tells of the table light. */
export interface LightSources {
  readonly surface: SurroundSurface | LackingSurface;
  readonly cloth: readonly ClothBand[] | null;
  readonly twoCards: boolean;
  /** How bright the photo is around each place; null where that was not measured. */
  readonly around: Neighbourhood | null;
}

/** All that this photo has to tell the table light by, before any of it is judged; `seed` for the choice among many cells. */
export const lightSources = (tiled: Tiled, seed: number): LightSources => ({
  surface: surroundSurface(tiled, seed),
  cloth: baseCloth(tiled),
  twoCards: cardEndSources(tiled).length > 0,
  around: tiled.brightness ? neighbourhood(tiled.brightness) : null,
});

/** The sources, the surround's outliers dropped and its own noise judged. */
export interface SettledLight extends LightSources {
  readonly settled: SettledSurface | null;
  readonly used: readonly LightSource[];
  /** What the places and noise of all that is used decide of the light. */
  readonly field: PreparedField;
}

/** Tiles within each mark: dye and cloth vary over a step as light does, so a tile's spread counts threefold. */
const withinSources = (tiled: Tiled, toScene: ToSceneLogs): LightSource[] =>
  [...tiled.card, ...tiled.steps].map(({ tiles }) => {
    const logs = tiles.map((t) => toScene(logOfRgb(t.rgb))[1]);
    const mean = logs.reduce((s, l) => s + l, 0) / logs.length;
    const sd = Math.sqrt(logs.reduce((s, l) => s + (l - mean) ** 2, 0) / Math.max(1, logs.length - 1));
    return { cells: tiles, noise: { sd: 3 * Math.max(sd, 0.01), length: 0, ownShare: 1, grain: null } };
  });

/**
 * All that tells of the light over the table: the surround, base cloth along the strip, cards at both ends; the change
 * within each mark where there is no surround.
 *
 * @param judge false for a first look. @param anchor place to which light is relative.
 */
export const settleLight = (
  tiled: Tiled,
  sources: LightSources,
  toScene: ToSceneLogs,
  judge: boolean,
  anchor: Place,
): SettledLight => {
  const { surface, cloth, around } = sources;
  const settled = 'cells' in surface ? settleSurface(tiled, surface, toScene, judge, around) : null;
  const used = [
    ...(settled ? [settled] : withinSources(tiled, toScene)),
    ...(cloth ? [clothSource(cloth)] : []),
    ...cardEndSources(tiled),
  ];
  const { widthPx, heightPx } = tiled;
  const surfaces = used.map(
    ({ cells, noise }): FieldSurface => ({
      places: cells,
      noise,
      prepared: prepareSurface(widthPx, heightPx, cells, noise, around),
    }),
  );
  const field = prepareField(widthPx, heightPx, surfaces, anchor, around, settled?.noise.strays);
  return { ...sources, settled, used, field };
};

/** The light over the table by these sources, the camera's tone taken out of what they recorded. */
export const lightField = ({ used, field }: SettledLight, toScene: ToSceneLogs): Field =>
  field.fit(used.map(({ cells }) => cells.map(({ rgb }) => toScene(logOfRgb(rgb)))));

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** Which source carried the answer, and what was done in words. */
const carriedBy = (
  light: SettledLight,
): {
  readonly method: Illumination['method'];
  readonly how: string;
  readonly said: (open: number) => Phrase;
} => {
  if (light.settled) {
    const spread = light.settled.noise.sd;
    return {
      method: 'surround',
      how: `the table around card and strip varies by ${percent(spread)} of itself`,
      said: (open) => phrase('light-by-table', { spread, open }),
    };
  }
  const lacking = 'reason' in light.surface ? light.surface.reason : '';
  const why = 'phrase' in light.surface ? light.surface.phrase : phrase('table-not-plain', {});
  if (light.cloth)
    return {
      method: 'base-cloth',
      how: `${lacking}, so unexposed cloth along the strip was used`,
      said: (open) => phrase('light-by-base', { lacking: why, open }),
    };
  if (light.twoCards)
    return {
      method: 'card-ends',
      how: `${lacking}, so the two cards were compared`,
      said: (open) => phrase('light-by-cards', { lacking: why, open }),
    };
  return {
    method: 'within-patches',
    how: `${lacking}, so only the change of light within each patch and step could be used`,
    said: (open) => phrase('light-within-patches', { lacking: why, open }),
  };
};

/** How the table light was evened out, and how much that leaves open. @param places card patches and steps. */
export const describeLight = (light: SettledLight, field: Field, places: readonly Place[]): Illumination => {
  const { method, how, said } = carriedBy(light);
  const logs = places.map(([x, y]) => field.logLight(x, y)[1]);
  const relativeU = Math.sqrt(Math.max(...places.map((p) => field.covariance(p, p))));
  return {
    method,
    accepted: method !== 'within-patches' && relativeU < WELL_EVENED,
    reason: `${how}, which leaves ${percent(relativeU)} open`,
    phrase: said(relativeU),
    fallOffRatio: Math.exp(Math.max(...logs) - Math.min(...logs)),
    relativeU,
  };
};
