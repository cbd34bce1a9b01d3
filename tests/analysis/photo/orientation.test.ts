import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { codesAt } from './reading.ts';

/** An upright picture of 96 × 64 px whose four quarters differ, so that no turn or mirror leaves it as it is. */
const widthPx = 96;
const heightPx = 64;
const quarters = [
  [220, 40, 40],
  [40, 200, 60],
  [40, 60, 210],
  [200, 200, 200],
] as const;

const quarterAt = (x: number, y: number) =>
  quarters[(y >= heightPx / 2 ? 2 : 0) + (x >= widthPx / 2 ? 1 : 0)];

/**
 * Where the stored row and column lie in the upright picture. Source: EXIF 2.3 and TIFF 6.0, tag Orientation: "the
 * 0th row is the visual <side>, the 0th column is the visual <side>".
 */
const storedToUpright: Readonly<
  Record<number, (row: number, column: number) => readonly [x: number, y: number]>
> = {
  1: (row, column) => [column, row], // row 0 top, column 0 left
  2: (row, column) => [widthPx - 1 - column, row], // top, right
  3: (row, column) => [widthPx - 1 - column, heightPx - 1 - row], // bottom, right
  4: (row, column) => [column, heightPx - 1 - row], // bottom, left
  5: (row, column) => [row, column], // left, top
  6: (row, column) => [widthPx - 1 - row, column], // right, top
  7: (row, column) => [widthPx - 1 - row, heightPx - 1 - column], // right, bottom
  8: (row, column) => [row, heightPx - 1 - column], // left, bottom
};

function stored(orientation: number): Sharp {
  const turned = orientation >= 5;
  const [width, height] = turned ? [heightPx, widthPx] : [widthPx, heightPx];
  const samples = new Uint8Array(3 * width * height);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      samples.set(quarterAt(...storedToUpright[orientation](row, column)), 3 * (row * width + column));
    }
  }
  return sharp(samples, { raw: { width, height, channels: 3 } }).withMetadata({ orientation });
}

async function expectUpright(file: Buffer, within: number) {
  const photo = await decodePhoto(file);
  expect([photo.widthPx, photo.heightPx]).toEqual([widthPx, heightPx]);
  for (const [x, y] of [
    [10, 8],
    [85, 8],
    [10, 55],
    [85, 55],
  ]) {
    const codes = codesAt(photo, y * widthPx + x);
    const wanted = quarterAt(x, y);
    for (let c = 0; c < 3; c++) expect(Math.abs(codes[c] - wanted[c])).toBeLessThanOrEqual(within);
  }
}

describe('a photo stored turned or mirrored', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])(
    'comes upright from a JPEG with EXIF orientation %i',
    async (orientation) => {
      await expectUpright(await stored(orientation).jpeg({ quality: 95 }).toBuffer(), 3);
    },
  );

  it.each([3, 5, 6, 8])('comes upright from PNG, WebP and TIFF with orientation %i', async (orientation) => {
    await expectUpright(await stored(orientation).png().toBuffer(), 0);
    await expectUpright(await stored(orientation).webp({ lossless: true }).toBuffer(), 0);
    await expectUpright(await stored(orientation).tiff({ compression: 'lzw' }).toBuffer(), 0);
  });
});
