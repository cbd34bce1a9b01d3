import { inverse, project, unitSquareTo } from '../locate/homography.ts';
import type { Quad } from '../locate/marks.ts';
import type { Photo, Rgb } from '../photo/photo.ts';

/** The mean light of a narrow band of cloth just outside a step. */
export interface ClothBand {
  readonly x: number;
  readonly y: number;
  readonly rgb: Rgb;
}

/** Where a band lies, in heights of the step outside its edge: past the cover's soft edge, short of the cloth's end. */
const NEAR = 0.06;
const FAR = 0.12;
const [FROM, TO] = [0.3, 0.7];
const FEWEST_PIXELS = 12;

/**
 * Bands beside a step on all four sides. Which of them show unexposed cloth is for a later stage to judge: a strip may
 * have a margin along two sides, on one, or none.
 *
 * @param quad of one step, pixels of the upright photo.
 */
export const clothBands = (photo: Photo, quad: Quad): ClothBand[] => {
  const toPhoto = unitSquareTo(quad);
  if (!toPhoto || !inverse(toPhoto)) return [];
  const { widthPx, heightPx, codes, profile } = photo;
  const sides: readonly ((along: number, out: number) => readonly [number, number])[] = [
    (along, out) => [along, -out],
    (along, out) => [along, 1 + out],
    (along, out) => [-out, along],
    (along, out) => [1 + out, along],
  ];
  const n = 12;
  return sides.flatMap((place): ClothBand[] => {
    let [r, g, b, sumX, sumY, count] = [0, 0, 0, 0, 0, 0];
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        const [u, v] = place(FROM + ((TO - FROM) * (i + 0.5)) / n, NEAR + ((FAR - NEAR) * (j + 0.5)) / n);
        const [x, y] = project(toPhoto, u, v);
        const [column, row] = [Math.floor(x), Math.floor(y)];
        if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) continue;
        const at = 3 * (row * widthPx + column);
        r += profile.linear[0][codes[at]];
        g += profile.linear[1][codes[at + 1]];
        b += profile.linear[2][codes[at + 2]];
        sumX += x;
        sumY += y;
        count++;
      }
    return count < FEWEST_PIXELS
      ? []
      : [{ x: sumX / count, y: sumY / count, rgb: [r / count, g / count, b / count] }];
  });
};
