import type { Marks } from '../locate/marks.ts';
import type { Photo } from '../photo/photo.ts';
import { brightnessMap } from './brightnessMap.ts';
import { cellsWithin } from './cellsWithin.ts';
import { clothBands } from './clothBands.ts';
import { surroundCells } from './surroundCells.ts';
import type { Tiled } from './tile.ts';
import { tilePatch } from './tilePatch.ts';

/**
 * Takes everything from the pixels that a reading needs: tiles of each card patch and step, and the surround.
 *
 * @throws AnalysisError `marks-outside-photo`, `marks-too-small`.
 */
export const cutTiles = (photo: Photo, marks: Marks): Tiled => ({
  widthPx: photo.widthPx,
  heightPx: photo.heightPx,
  card: marks.card.map((mark) => ({
    name: mark.name,
    ...tilePatch(photo, mark.quad, { patch: mark.name }),
  })),
  steps: marks.steps.map((mark) => ({
    seconds: mark.seconds,
    ...tilePatch(photo, mark.quad, { seconds: mark.seconds }),
  })),
  swatch: marks.swatch ? tilePatch(photo, marks.swatch.quad, 'the swatch') : null,
  bands: marks.steps.flatMap((m) => clothBands(photo, m.quad)),
  brightness: brightnessMap(photo),
  surround: cellsWithin(
    photo,
    marks.surround,
    surroundCells(photo, [
      ...marks.card.map((m) => m.quad),
      ...marks.steps.map((m) => m.quad),
      ...(marks.swatch ? [marks.swatch.quad] : []),
    ]),
  ),
});
