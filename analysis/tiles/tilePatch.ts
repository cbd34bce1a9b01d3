import { AnalysisError } from '../errors.ts';
import { inverse, project, unitSquareTo } from '../locate/homography.ts';
import type { Quad } from '../locate/marks.ts';
import { sideLengths } from '../locate/quadGeometry.ts';
import { isClipped } from '../photo/clipping.ts';
import type { Photo, Rgb } from '../photo/photo.ts';
import { codeSpread, roundingUOf } from './rounding.ts';
import type { Tile, TiledPatch } from './tile.ts';

/** Share of a quad's width left out at each side: the cover's penumbra, frayed edges, sharpening halos. */
export const EDGE_SHARE = 0.18;
const MOST_PER_SIDE = 8;
const FEWEST_TILE_PX = 4;
const MOST_PIXELS = 50_000;
const CHANNELS = [0, 1, 2] as const;

const tilesAlong = (px: number): number =>
  Math.max(1, Math.min(MOST_PER_SIDE, Math.floor(px / FEWEST_TILE_PX)));

/**
 * Cuts the middle of a marked area into tiles and averages each in linear light.
 *
 * @param photo upright photo. @param quad corners in its pixels. @param what names the area in an error.
 * @throws AnalysisError `marks-outside-photo` or `marks-too-small`.
 */
export const tilePatch = (photo: Photo, quad: Quad, what: string): TiledPatch => {
  const { widthPx, heightPx, codes, profile } = photo;
  const xs = quad.map((p) => p[0]);
  const ys = quad.map((p) => p[1]);
  if (
    Math.min(...xs) < -1 ||
    Math.min(...ys) < -1 ||
    Math.max(...xs) > widthPx + 1 ||
    Math.max(...ys) > heightPx + 1
  )
    throw new AnalysisError(
      'marks-outside-photo',
      `The mark of ${what} lies outside the photo (${widthPx} × ${heightPx} pixels). Give marks in pixels of the upright photo.`,
    );
  const [across, down] = sideLengths(quad);
  const keptAcross = across * (1 - 2 * EDGE_SHARE);
  const keptDown = down * (1 - 2 * EDGE_SHARE);
  if (keptAcross < FEWEST_TILE_PX || keptDown < FEWEST_TILE_PX)
    throw new AnalysisError(
      'marks-too-small',
      `The mark of ${what} is only ${across.toFixed(0)} × ${down.toFixed(0)} pixels. Move closer, or use the photo at full size.`,
    );

  const columns = tilesAlong(keptAcross);
  const rows = tilesAlong(keptDown);
  const fromUnit = unitSquareTo(quad);
  const toUnit = fromUnit && inverse(fromUnit);
  if (!fromUnit || !toUnit)
    throw new AnalysisError(
      'marks-invalid',
      `The corners of ${what} do not make a four-sided area. Set them again.`,
    );
  const [left, top] = [Math.max(0, Math.floor(Math.min(...xs))), Math.max(0, Math.floor(Math.min(...ys)))];
  const [right, bottom] = [
    Math.min(widthPx - 1, Math.ceil(Math.max(...xs))),
    Math.min(heightPx - 1, Math.ceil(Math.max(...ys))),
  ];
  const stride = Math.max(1, Math.floor(Math.sqrt((keptAcross * keptDown) / MOST_PIXELS)));

  const n = columns * rows;
  const kept = [codeSpread(), codeSpread(), codeSpread()] as const;
  const sums = new Float64Array(n * 3);
  const counts = new Uint32Array(n);
  const clipped = new Uint32Array(n);
  const [redOf, greenOf, blueOf] = profile.linear;
  const toColumn = columns / (1 - 2 * EDGE_SHARE);
  const toRow = rows / (1 - 2 * EDGE_SHARE);
  for (let y = top; y <= bottom; y += stride)
    for (let x = left; x <= right; x += stride) {
      const w = toUnit[6] * (x + 0.5) + toUnit[7] * (y + 0.5) + toUnit[8];
      const u = (toUnit[0] * (x + 0.5) + toUnit[1] * (y + 0.5) + toUnit[2]) / w;
      const v = (toUnit[3] * (x + 0.5) + toUnit[4] * (y + 0.5) + toUnit[5]) / w;
      const column = Math.floor((u - EDGE_SHARE) * toColumn);
      const row = Math.floor((v - EDGE_SHARE) * toRow);
      if (column < 0 || row < 0 || column >= columns || row >= rows) continue;
      const tile = row * columns + column;
      const pixel = y * widthPx + x;
      sums[3 * tile] += redOf[codes[3 * pixel]];
      sums[3 * tile + 1] += greenOf[codes[3 * pixel + 1]];
      sums[3 * tile + 2] += blueOf[codes[3 * pixel + 2]];
      counts[tile]++;
      for (const c of CHANNELS) kept[c].add(codes[3 * pixel + c]);
      if (isClipped(photo, pixel)) clipped[tile]++;
    }

  const tiles: Tile[] = [];
  for (let tile = 0; tile < n; tile++) {
    const count = counts[tile];
    if (count === 0) continue;
    const column = tile % columns;
    const row = (tile - column) / columns;
    const [x, y] = project(
      fromUnit,
      EDGE_SHARE + (column + 0.5) / toColumn,
      EDGE_SHARE + (row + 0.5) / toRow,
    );
    tiles.push({
      x,
      y,
      column,
      row,
      rgb: [sums[3 * tile] / count, sums[3 * tile + 1] / count, sums[3 * tile + 2] / count],
      pixels: count,
      clippedShare: clipped[tile] / count,
    });
  }
  if (tiles.length === 0)
    throw new AnalysisError(
      'marks-too-small',
      `The mark of ${what} holds no pixel once its edges are left out. Set its four corners wider apart.`,
    );
  const roundingU: Rgb = [
    roundingUOf(kept[0], redOf),
    roundingUOf(kept[1], greenOf),
    roundingUOf(kept[2], blueOf),
  ];
  return { quad, columns, rows, tiles, roundingU };
};
