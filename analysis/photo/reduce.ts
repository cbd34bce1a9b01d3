import { clippingLimits } from './clipping.ts';
import type { Photo } from './photo.ts';

/** A small picture of a photo in linear device light. */
export interface ReducedPhoto {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Whole photo pixels per side of one reduced pixel. Reduced column x covers photo columns scale·x to scale·(x + 1). */
  readonly scale: number;
  /** Linear device light, R G B interleaved, row by row: length 3·widthPx·heightPx. */
  readonly rgb: Float32Array;
  /** Per reduced pixel: the share of its photo pixels that were clipped in the file, 0..255; not 0 where any was. */
  readonly clipped: Uint8Array;
}

/**
 * What does the photo look like in broad strokes? The mean linear light of square boxes of whole pixels, so that no
 * side is longer than `maxSidePx`; the last row and column average what is left of theirs. For a look that may be
 * noisier, `rowStep` takes only every so many rows of a box.
 */
export function reduceLinear(photo: Photo, maxSidePx: number, rowStep = 1): ReducedPhoto {
  return reduceBy(
    photo,
    Math.max(1, Math.ceil(Math.max(photo.widthPx, photo.heightPx) / maxSidePx)),
    rowStep,
  );
}

/** The same with `scale` photo pixels, a whole number, to a box's side. */
export function reduceBy(photo: Photo, scale: number, rowStep = 1): ReducedPhoto {
  const widthPx = Math.ceil(photo.widthPx / scale);
  const heightPx = Math.ceil(photo.heightPx / scale);
  const rgb = new Float32Array(3 * widthPx * heightPx);
  const clipped = new Uint8Array(widthPx * heightPx);
  const range = unclippedRange(photo);
  const sums = new Float64Array(3 * widthPx);
  const counts = new Uint32Array(widthPx);
  for (let y = 0; y < heightPx; y++) {
    sums.fill(0);
    counts.fill(0);
    const lastRow = Math.min((y + 1) * scale, photo.heightPx);
    for (let row = y * scale; row < lastRow; row += rowStep) addRow(photo, range, row, scale, sums, counts);
    const rows = Math.ceil((lastRow - y * scale) / rowStep);
    for (let x = 0; x < widthPx; x++) {
      const pixels = rows * (Math.min((x + 1) * scale, photo.widthPx) - x * scale);
      const to = y * widthPx + x;
      for (let c = 0; c < 3; c++) rgb[3 * to + c] = sums[3 * x + c] / pixels;
      clipped[to] = Math.ceil((255 * counts[x]) / pixels);
    }
  }
  return { widthPx, heightPx, scale, rgb, clipped };
}

/** First and last code that count as light; every code where the photo brings its own mask. */
function unclippedRange({ maxCode, clippedInFile }: Photo): readonly [first: number, last: number] {
  const { low, high } = clippingLimits(maxCode);
  return clippedInFile === undefined ? [low + 1, high - 1] : [0, maxCode];
}

/** Adds one photo row to the box sums; the loop that decides how fast a photo is reduced. */
function addRow(
  photo: Photo,
  [first, last]: readonly [number, number],
  row: number,
  scale: number,
  sums: Float64Array,
  counts: Uint32Array,
): void {
  const { codes, widthPx, clippedInFile } = photo;
  const [red, green, blue] = photo.profile.linear;
  let i = 3 * row * widthPx;
  for (let from = 0, x = 0; from < widthPx; from += scale, x++) {
    const end = i + 3 * Math.min(scale, widthPx - from);
    let r = 0;
    let g = 0;
    let b = 0;
    let out = 0;
    for (; i < end; i += 3) {
      const codeR = codes[i];
      const codeG = codes[i + 1];
      const codeB = codes[i + 2];
      r += red[codeR];
      g += green[codeG];
      b += blue[codeB];
      // Negative, so with its sign bit set, where any of the six differences is: no branch in the innermost loop.
      const outside =
        (codeR - first) |
        (last - codeR) |
        (codeG - first) |
        (last - codeG) |
        (codeB - first) |
        (last - codeB);
      out += outside >>> 31;
    }
    sums[3 * x] += r;
    sums[3 * x + 1] += g;
    sums[3 * x + 2] += b;
    counts[x] += out;
  }
  if (clippedInFile === undefined) return;
  const start = row * widthPx;
  for (let column = 0; column < widthPx; column++) {
    counts[Math.floor(column / scale)] += clippedInFile[start + column];
  }
}
