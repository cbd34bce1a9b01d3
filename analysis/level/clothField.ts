import { median } from 'simple-statistics';
import type { Rgb } from '../photo/photo.ts';
import type { ClothBand } from '../tiles/clothBands.ts';
import type { Tiled } from '../tiles/tile.ts';
import type { LightSource } from './field.ts';
import { logOfRgb } from './sceneLogs.ts';

/** Table light changes by less than this, in ln, between a band and the base step. */
const SAME_LEVEL = 0.35;
/** Colour of cloth, ln of a channel ratio, that still counts as the base's. */
const SAME_COLOUR = 0.045;
/** How far a band may lie off the others', in ln: it reaches into dye, or past the cloth. */
const OUTLYING = 0.12;
const FEWEST_BANDS = 4;
/** Spread of bare cloth between bands, in ln light. */
const CLOTH_SD = 0.02;
/** Spread between two cards' patches of one name, in ln light. */
const CARD_SD = 0.015;

const meanOf = (tiles: readonly { readonly rgb: Rgb }[]): Rgb => [
  median(tiles.map((t) => t.rgb[0])),
  median(tiles.map((t) => t.rgb[1])),
  median(tiles.map((t) => t.rgb[2])),
];

/**
 * Unexposed cloth running along the strip: bands beside the steps that have the base's colour. They lie where the
 * light is wanted. Null where the strip has no base to compare with, or no margin.
 */
export const baseCloth = (tiled: Tiled): readonly ClothBand[] | null => {
  const base = tiled.steps.find((s) => s.seconds === 0);
  if (!base) return null;
  const [r, g, b] = logOfRgb(meanOf(base.tiles));
  const alike = tiled.bands.filter((band) => {
    const [br, bg, bb] = logOfRgb(band.rgb);
    return (
      Math.abs(bg - g) < SAME_LEVEL &&
      Math.abs(br - bg - (r - g)) < SAME_COLOUR &&
      Math.abs(bb - bg - (b - g)) < SAME_COLOUR
    );
  });
  if (alike.length < FEWEST_BANDS) return null;
  const level = median(alike.map((band) => logOfRgb(band.rgb)[1]));
  const kept = alike.filter((band) => Math.abs(logOfRgb(band.rgb)[1] - level) < OUTLYING);
  return kept.length < FEWEST_BANDS ? null : kept;
};

/** Base cloth along the strip as a source of the table light. */
export const clothSource = (bands: readonly ClothBand[]): LightSource => ({
  cells: bands,
  noise: { sd: CLOTH_SD, length: 0, ownShare: 1, grain: null },
});

/** Card patches that lie in the photo more than once, as on a card at either end: one source per name. */
export const cardEndSources = (tiled: Tiled): LightSource[] => {
  const names = [...new Set(tiled.card.map((p) => p.name))];
  return names.flatMap((name) => {
    const patches = tiled.card.filter((p) => p.name === name);
    if (patches.length < 2) return [];
    return [
      {
        cells: patches.map((p) => ({
          x: p.tiles.reduce((s, t) => s + t.x, 0) / p.tiles.length,
          y: p.tiles.reduce((s, t) => s + t.y, 0) / p.tiles.length,
          rgb: meanOf(p.tiles),
        })),
        noise: { sd: CARD_SD, length: 0, ownShare: 1, grain: null },
      },
    ];
  });
};
