import { AnalysisError } from '../errors.ts';
import { inverse, project, unitSquareTo } from '../locate/homography.ts';
import type { Marks, Quad } from '../locate/marks.ts';
import { sideLengths } from '../locate/quadGeometry.ts';
import { clippingLimits } from '../photo/clipping.ts';
import type { Photo, Rgb } from '../photo/photo.ts';
import { fullSize, pixelsJoined } from '../photo/reduction.ts';
import { phrase } from '../phrases.ts';
import type { Marked } from '../refusals.ts';
import { codeSpread, roundingUOf } from './rounding.ts';
import type { Tile, TiledPatch } from './tile.ts';

/** Share of a quad's width left out at each side: the cover's penumbra, frayed edges, sharpening halos. */
export const EDGE_SHARE = 0.18;
const MOST_PER_SIDE = 8;
const FEWEST_TILE_PX = 4;
/**
 * About so many pixels of an area are read: their noise adds less than a thousandth to the light of a tile, far less than
 * cloth varies from tile to tile.
 */
const MOST_PIXELS = 25_000;
/** The golden ratio's fraction: shifts from row to row by it fall on no weave's period. */
const GOLDEN = 0.6180339887498949;

const tilesAlong = (px: number): number =>
  Math.max(1, Math.min(MOST_PER_SIDE, Math.floor(px / FEWEST_TILE_PX)));

/** Tiles along a side that tell a foreign one from the others well enough. */
const ENOUGH_PER_SIDE = 5;

/** Is every marked area cut into enough tiles along both sides? Marks in pixels of the picture. */
export const holdEnoughTiles = ({ card, steps, swatch }: Marks): boolean =>
  [...card, ...steps, ...(swatch ? [swatch] : [])].every(
    ({ quad }) => tilesAlong(Math.min(...sideLengths(quad)) * (1 - 2 * EDGE_SHARE)) >= ENOUGH_PER_SIDE,
  );

/** Corners of what is read, in the area's own unit square. */
const CORNERS = [
  [EDGE_SHARE, EDGE_SHARE],
  [1 - EDGE_SHARE, EDGE_SHARE],
  [1 - EDGE_SHARE, 1 - EDGE_SHARE],
  [EDGE_SHARE, 1 - EDGE_SHARE],
] as const;

/** From where to where a quad reaches along a photo row; `least` above `most` where the row misses it. */
const rowReach = (quad: Quad, y: number, reach: { least: number; most: number }): void => {
  reach.least = Number.POSITIVE_INFINITY;
  reach.most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < 4; i++) {
    const a = quad[i];
    const b = quad[(i + 1) % 4];
    if (Math.min(a[1], b[1]) > y || Math.max(a[1], b[1]) < y) continue;
    const at = a[1] === b[1] ? 0 : (y - a[1]) / (b[1] - a[1]);
    const x = a[0] + at * (b[0] - a[0]);
    reach.least = Math.min(reach.least, x, a[1] === b[1] ? b[0] : x);
    reach.most = Math.max(reach.most, x, a[1] === b[1] ? b[0] : x);
  }
};

const nameOf = (what: Marked): string =>
  typeof what === 'string'
    ? what
    : 'patch' in what
      ? `card patch "${what.patch}"`
      : `the step of ${what.seconds} s`;

/**
 * Cuts the middle of a marked area into tiles and averages each in linear light.
 *
 * @param photo upright photo. @param quad corners in its pixels. @param what the area, named in errors.
 * @throws AnalysisError `marks-outside-photo`, `marks-too-small`, or `marks-invalid` for corners that make no area.
 */
export const tilePatch = (photo: Photo, quad: Quad, what: Marked): TiledPatch => {
  const { widthPx, heightPx, codes, profile } = photo;
  const xs = quad.map((p) => p[0]);
  const ys = quad.map((p) => p[1]);
  if (
    Math.min(...xs) < -1 ||
    Math.min(...ys) < -1 ||
    Math.max(...xs) > widthPx + 1 ||
    Math.max(...ys) > heightPx + 1
  ) {
    const full = fullSize(photo);
    throw new AnalysisError(
      'marks-outside-photo',
      `The mark of ${nameOf(what)} lies outside the photo (${full.widthPx} × ${full.heightPx} pixels). Give marks in pixels of the upright photo.`,
      { phrase: phrase('mark-outside', { of: what, widthPx: full.widthPx, heightPx: full.heightPx }) },
    );
  }
  const [across, down] = sideLengths(quad);
  const keptAcross = across * (1 - 2 * EDGE_SHARE);
  const keptDown = down * (1 - 2 * EDGE_SHARE);
  if (keptAcross < FEWEST_TILE_PX || keptDown < FEWEST_TILE_PX) {
    const [joined] = pixelsJoined(photo);
    throw new AnalysisError(
      'marks-too-small',
      `The mark of ${nameOf(what)} is only ${(joined * across).toFixed(0)} × ${(joined * down).toFixed(0)} pixels. Move closer, or use the photo at full size.`,
      { phrase: phrase('mark-small', { of: what, widthPx: joined * across, heightPx: joined * down }) },
    );
  }

  const columns = tilesAlong(keptAcross);
  const rows = tilesAlong(keptDown);
  const fromUnit = unitSquareTo(quad);
  const toUnit = fromUnit && inverse(fromUnit);
  if (!fromUnit || !toUnit)
    throw new AnalysisError(
      'marks-invalid',
      `The corners of ${nameOf(what)} do not make a four-sided area. Set them again.`,
      { phrase: phrase('mark-crossed', { of: what }) },
    );
  const kept = CORNERS.map(([u, v]) => project(fromUnit, u, v)) as unknown as Quad;
  const keptYs = kept.map((p) => p[1]);
  const top = Math.max(0, Math.floor(Math.min(...keptYs)) - 1);
  const bottom = Math.min(heightPx - 1, Math.ceil(Math.max(...keptYs)) + 1);
  // Every row, but only some pixels of each, shifted from row to row: threads along either direction are all met.
  const step = Math.max(1, Math.round((keptAcross * keptDown) / MOST_PIXELS));

  const n = columns * rows;
  const sums = new Float64Array(n * 3);
  const counts = new Uint32Array(n);
  const clipped = new Uint32Array(n);
  let [red, green, blue, red2, green2, blue2, count] = [0, 0, 0, 0, 0, 0, 0];
  const [redOf, greenOf, blueOf] = profile.linear;
  const { clippedInFile } = photo;
  const { low, high } = clippingLimits(photo.maxCode);
  const toColumn = columns / (1 - 2 * EDGE_SHARE);
  const toRow = rows / (1 - 2 * EDGE_SHARE);
  const [h0, h1, h2, h3, h4, h5, h6, h7, h8] = toUnit;
  const reach = { least: 0, most: 0 };
  for (let y = top; y <= bottom; y++) {
    rowReach(kept, y + 0.5, reach);
    // A little wider than the area: the test below decides.
    const first = Math.max(0, Math.floor(reach.least) - 1);
    const last = Math.min(widthPx - 1, Math.ceil(reach.most));
    const shift = Math.floor(((y * GOLDEN) % 1) * step);
    const uOfRow = h1 * (y + 0.5) + h2;
    const vOfRow = h4 * (y + 0.5) + h5;
    const wOfRow = h7 * (y + 0.5) + h8;
    for (let x = first + ((shift + step - (first % step)) % step); x <= last; x += step) {
      const w = 1 / (h6 * (x + 0.5) + wOfRow);
      const acrossTiles = ((h0 * (x + 0.5) + uOfRow) * w - EDGE_SHARE) * toColumn;
      const downTiles = ((h3 * (x + 0.5) + vOfRow) * w - EDGE_SHARE) * toRow;
      if (!(acrossTiles >= 0 && downTiles >= 0 && acrossTiles < columns && downTiles < rows)) continue;
      const tile = (downTiles | 0) * columns + (acrossTiles | 0);
      const pixel = y * widthPx + x;
      const r = codes[3 * pixel];
      const g = codes[3 * pixel + 1];
      const b = codes[3 * pixel + 2];
      sums[3 * tile] += redOf[r];
      sums[3 * tile + 1] += greenOf[g];
      sums[3 * tile + 2] += blueOf[b];
      counts[tile]++;
      count++;
      red += r;
      green += g;
      blue += b;
      red2 += r * r;
      green2 += g * g;
      blue2 += b * b;
      const outside =
        clippedInFile === undefined
          ? r <= low || g <= low || b <= low || r >= high || g >= high || b >= high
          : clippedInFile[pixel] !== 0;
      if (outside) clipped[tile]++;
    }
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
      `The mark of ${nameOf(what)} holds no pixel once its edges are left out. Set its four corners wider apart.`,
      { phrase: phrase('mark-empty', { of: what }) },
    );
  const roundingU: Rgb = [
    roundingUOf(codeSpread(count, red, red2), redOf),
    roundingUOf(codeSpread(count, green, green2), greenOf),
    roundingUOf(codeSpread(count, blue, blue2), blueOf),
  ];
  return { quad, columns, rows, tiles, roundingU };
};
