import type { Point, Quad } from '../locate/marks.ts';
import { containsPoint, quadCentre, sideLengths } from '../locate/quadGeometry.ts';
import { clippingLimits } from '../photo/clipping.ts';
import type { Photo } from '../photo/photo.ts';
import type { SurroundCell } from './tile.ts';

/** Cells along the photo's longer side. */
export const CELLS_ALONG = 56;
const SAMPLES_ALONG_CELL = 8;
/** How far a mark's surroundings are left out, in shorter sides of it: mount, cloth edge, contact shadow. */
const KEEP_AWAY = 0.5;

/** The quad with each side moved outwards by the same distance. */
const grown = (quad: Quad, share: number): Quad => {
  const [cx, cy] = quadCentre(quad);
  const [across, down] = sideLengths(quad);
  const away = share * Math.min(across, down);
  const [p, q, r, s] = quad;
  const axis = (i: 0 | 1): readonly [number, number] => [
    ((q[i] - p[i] + r[i] - s[i]) / 4) * (1 + (2 * away) / across),
    ((s[i] - p[i] + r[i] - q[i]) / 4) * (1 + (2 * away) / down),
  ];
  const [[ux, vx], [uy, vy]] = [axis(0), axis(1)];
  return [
    [cx - ux - vx, cy - uy - vy],
    [cx + ux - vx, cy + uy - vy],
    [cx + ux + vx, cy + uy + vy],
    [cx - ux + vx, cy - uy + vy],
  ];
};

const boxOf = (quad: Quad) => ({
  left: Math.min(...quad.map((p) => p[0])),
  right: Math.max(...quad.map((p) => p[0])),
  top: Math.min(...quad.map((p) => p[1])),
  bottom: Math.max(...quad.map((p) => p[1])),
});

/**
 * Averages what lies around the marks, cell by cell in linear light: the raw material of the illumination field.
 * Cells that touch a grown mark, or hold clipped pixels, are left out.
 *
 * @param quads all card and step marks, pixels of the upright photo.
 */
export const surroundCells = (photo: Photo, quads: readonly Quad[]): SurroundCell[] => {
  const { widthPx, heightPx, codes, profile } = photo;
  const sidePx = Math.max(widthPx, heightPx) / CELLS_ALONG;
  const stride = Math.max(1, Math.floor(sidePx / SAMPLES_ALONG_CELL));
  const away = quads.map((q) => {
    const area = grown(q, KEEP_AWAY);
    return { area, box: boxOf(area) };
  });
  const { clippedInFile } = photo;
  const { low, high } = clippingLimits(photo.maxCode);
  const [redOf, greenOf, blueOf] = profile.linear;
  const logOf = Float64Array.from(greenOf, (light) => Math.log(Math.max(light, 1e-4)));
  const cells: SurroundCell[] = [];
  const columns = Math.floor(widthPx / sidePx);
  const rows = Math.floor(heightPx / sidePx);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      // Whole pixels: a cell's fractional edge would reach past the last column by rounding.
      const left = Math.floor(column * sidePx);
      const top = Math.floor(row * sidePx);
      const right = Math.min(widthPx, Math.floor((column + 1) * sidePx));
      const bottom = Math.min(heightPx, Math.floor((row + 1) * sidePx));
      const middleX = (left + right) / 2;
      const middleY = (top + bottom) / 2;
      const corners: Point[] = [
        [middleX, middleY],
        [left, top],
        [right, top],
        [left, bottom],
        [right, bottom],
      ];
      if (
        away.some(
          ({ area, box }) =>
            left <= box.right &&
            right >= box.left &&
            top <= box.bottom &&
            bottom >= box.top &&
            corners.some((corner) => containsPoint(area, corner)),
        )
      )
        continue;
      let r = 0;
      let g = 0;
      let b = 0;
      let logs = 0;
      let logs2 = 0;
      let n = 0;
      let clipped = 0;
      for (let y = top; y < bottom; y += stride)
        for (let x = left; x < right; x += stride) {
          const pixel = y * widthPx + x;
          const red = codes[3 * pixel];
          const green = codes[3 * pixel + 1];
          const blue = codes[3 * pixel + 2];
          const outside =
            clippedInFile === undefined
              ? red <= low || green <= low || blue <= low || red >= high || green >= high || blue >= high
              : clippedInFile[pixel] !== 0;
          if (outside) clipped++;
          r += redOf[red];
          g += greenOf[green];
          b += blueOf[blue];
          const log = logOf[green];
          logs += log;
          logs2 += log * log;
          n++;
        }
      if (n === 0 || clipped > 0.02 * n) continue;
      cells.push({
        x: middleX,
        y: middleY,
        rgb: [r / n, g / n, b / n],
        texture: Math.sqrt(Math.max(0, logs2 / n - (logs / n) ** 2)),
      });
    }
  return cells;
};
