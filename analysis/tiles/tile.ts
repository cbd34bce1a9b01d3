import type { Quad } from '../locate/marks.ts';
import type { Rgb } from '../photo/photo.ts';
import type { BrightnessMap } from './brightnessMap.ts';
import type { ClothBand } from './clothBands.ts';

/** The mean light of a small piece of a card patch or of a step. */
export interface Tile {
  /** Place of the tile's centre, pixels of the upright photo. */
  readonly x: number;
  readonly y: number;
  /** Place within the patch's grid. */
  readonly column: number;
  readonly row: number;
  /** Mean linear device light. */
  readonly rgb: Rgb;
  readonly pixels: number;
  readonly clippedShare: number;
}

/** A marked area cut into tiles, its edges left out. */
export interface TiledPatch {
  readonly quad: Quad;
  readonly columns: number;
  readonly rows: number;
  readonly tiles: readonly Tile[];
  /** Standard uncertainty of the area's mean light from whole codes, per channel; none where missing. */
  readonly roundingU?: Rgb;
}

/** A cell of what lies around card and strip. */
export interface SurroundCell {
  readonly x: number;
  readonly y: number;
  readonly rgb: Rgb;
  /** Standard deviation of ln(green light) within the cell: texture. */
  readonly texture: number;
}

/** All that is measured from pixels; no later stage goes back to them. */
export interface Tiled {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly card: readonly (TiledPatch & { readonly name: string })[];
  readonly steps: readonly (TiledPatch & { readonly seconds: number })[];
  /** The marked swatch; null where none is. */
  readonly swatch: TiledPatch | null;
  readonly surround: readonly SurroundCell[];
  /** Bands just outside the steps, which may show unexposed cloth. */
  readonly bands: readonly ClothBand[];
  /** The photo's brightness part by part; where missing, a camera's evening-out of parts is left to the uncertainty. */
  readonly brightness?: BrightnessMap;
}
