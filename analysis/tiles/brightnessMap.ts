import type { Photo } from '../photo/photo.ts';

/** How bright the photo is, coarsely, marks included: row-major ln of mean light, cells of `cellPx` on a side. */
export interface BrightnessMap {
  readonly cellPx: number;
  readonly columns: number;
  readonly rows: number;
  readonly logs: readonly number[];
}

const CELLS_ALONG = 56;
const SAMPLES_ALONG_CELL = 5;
/** Light below which a camera that evens out a picture has nothing to even out. */
const FLOOR = 0.01;

/**
 * How bright is each part of the photo, roughly? Cameras that even out a picture part by part go by this.
 *
 * @param photo upright. @returns ln of the mean linear green light in square cells, 56 along the longer side.
 */
export const brightnessMap = (photo: Photo): BrightnessMap => {
  const { widthPx, heightPx, codes, profile } = photo;
  const cellPx = Math.max(widthPx, heightPx) / CELLS_ALONG;
  const columns = Math.max(1, Math.round(widthPx / cellPx));
  const rows = Math.max(1, Math.round(heightPx / cellPx));
  const green = profile.linear[1];
  const logs = new Array<number>(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      for (let i = 0; i < SAMPLES_ALONG_CELL; i++)
        for (let j = 0; j < SAMPLES_ALONG_CELL; j++) {
          const x = Math.min(widthPx - 1, Math.floor((column + (j + 0.5) / SAMPLES_ALONG_CELL) * cellPx));
          const y = Math.min(heightPx - 1, Math.floor((row + (i + 0.5) / SAMPLES_ALONG_CELL) * cellPx));
          sum += green[codes[3 * (y * widthPx + x) + 1]];
        }
      logs[row * columns + column] = Math.log(sum / SAMPLES_ALONG_CELL ** 2 + FLOOR);
    }
  return { cellPx, columns, rows, logs };
};
