import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhoto, decodeToMeasure } from '../../../analysis/photo/decode.ts';
import type { Photo } from '../../../analysis/photo/photo.ts';
import { previewOf } from '../../../analysis/photo/preview.ts';
import { fullSize, pixelsJoined, reducedSize } from '../../../analysis/photo/reduction.ts';
import { normalSource } from '../../../fixtures/noise.ts';
import { stripesPng } from './files.ts';

const [WIDTH, HEIGHT] = [3600, 2700];
const RAW = { width: WIDTH, height: HEIGHT, channels: 3 } as const;
/** Codes by which the mean of a noisy area may differ from the mean of the file's own pixels there, rounding included. */
const MEAN_CODES = 0.3;

const quarters = [
  [230, 60, 60],
  [60, 200, 80],
  [40, 60, 210],
  [128, 128, 128],
] as const;

/** Four quarters of different colour, or of any light, with noise of two codes. */
const quarterPhoto = (noise = 2): Sharp => {
  const normal = normalSource(71, 1);
  const table = Float32Array.from({ length: 4099 }, () => noise * normal());
  const samples = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0, i = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const quarter = quarters[(2 * y >= HEIGHT ? 2 : 0) + (2 * x >= WIDTH ? 1 : 0)];
      for (const code of quarter) samples[i] = code + table[i++ % table.length] + 0.5;
    }
  return sharp(samples, { raw: RAW });
};

/** Mean code of each channel in a rectangle given in shares of the photo's sides. */
const meanCodes = ({ codes, widthPx, heightPx }: Photo, left: number, top: number, size = 0.3) => {
  const sums = [0, 0, 0];
  let n = 0;
  for (let y = Math.round(top * heightPx); y < Math.round((top + size) * heightPx); y++)
    for (let x = Math.round(left * widthPx); x < Math.round((left + size) * widthPx); x++, n++)
      for (let c = 0; c < 3; c++) sums[c] += codes[3 * (y * widthPx + x) + c];
  return sums.map((sum) => sum / n);
};

const expectSameMeans = (one: Photo, other: Photo) => {
  for (const [left, top] of [
    [0.1, 0.1],
    [0.6, 0.1],
    [0.1, 0.6],
    [0.6, 0.6],
  ]) {
    const [a, b] = [meanCodes(one, left, top), meanCodes(other, left, top)];
    for (let c = 0; c < 3; c++) expect(Math.abs(a[c] - b[c])).toBeLessThan(MEAN_CODES);
  }
};

describe('a large JPEG is measured in fewer pixels', () => {
  it.each([
    ['12 MP', 4000, 3000, 1333, 1000],
    ['12 MP upright', 3024, 4032, 1008, 1344],
    ['48 MP', 8000, 6000, 1600, 1200],
    ['100 MP', 11_500, 8600, 1277, 955],
    ['a long one of 36 MP', 12_000, 3000, 2400, 600],
  ] as const)('%s: %i × %i px come as %i × %i', (_, width, height, widthPx, heightPx) => {
    expect(reducedSize(width, height)).toEqual({ widthPx, heightPx });
  });

  it('8 MP stay as they are: a third of 3264 × 2448 px to a side would be less than a million', () => {
    expect(reducedSize(3264, 2448)).toBeNull();
  });

  it.each([
    ['4:2:0', { chromaSubsampling: '4:2:0' }],
    ['4:4:4', { chromaSubsampling: '4:4:4' }],
    ['progressive', { progressive: true }],
  ] as const)('%s: areas keep their mean code within 0.3', async (_, options) => {
    const bytes = await quarterPhoto()
      .jpeg({ quality: 92, ...options })
      .toBuffer();
    const [whole, reduced] = [await decodePhoto(bytes), await decodeToMeasure(bytes)];
    expect([reduced.widthPx, reduced.heightPx]).toEqual([1200, 900]);
    expect(reduced.codes).toHaveLength(3 * 1200 * 900);
    expect(fullSize(reduced)).toEqual({ widthPx: WIDTH, heightPx: HEIGHT });
    expect(pixelsJoined(reduced)).toEqual([3, 3]);
    expectSameMeans(reduced, whole);
  });

  it('grey comes as three equal channels', async () => {
    const bytes = await quarterPhoto().toColourspace('b-w').jpeg({ quality: 92 }).toBuffer();
    const [whole, reduced] = [await decodePhoto(bytes), await decodeToMeasure(bytes)];
    expect([reduced.widthPx, reduced.heightPx]).toEqual([1200, 900]);
    expect(reduced.codes[300]).toBe(reduced.codes[301]);
    expect(reduced.codes[300]).toBe(reduced.codes[302]);
    expectSameMeans(reduced, whole);
  });

  it.each([3, 7])('lies upright with EXIF orientation %i', async (orientation) => {
    const bytes = await quarterPhoto().withMetadata({ orientation }).jpeg({ quality: 92 }).toBuffer();
    const [whole, reduced] = [await decodePhoto(bytes), await decodeToMeasure(bytes)];
    const turned = orientation >= 5;
    expect([reduced.widthPx, reduced.heightPx]).toEqual(turned ? [900, 1200] : [1200, 900]);
    expect(fullSize(reduced)).toEqual({ widthPx: whole.widthPx, heightPx: whole.heightPx });
    expectSameMeans(reduced, whole);
  });

  it('keeps its embedded profile', async () => {
    const stripes = await stripesPng([
      [200, 100, 50],
      [60, 60, 60],
    ]);
    const bytes = await sharp(stripes)
      .resize(WIDTH, HEIGHT, { fit: 'fill', kernel: 'nearest' })
      .withIccProfile('p3')
      .jpeg()
      .toBuffer();
    const [whole, reduced] = [await decodePhoto(bytes), await decodeToMeasure(bytes)];
    expect(reduced.full).toBeDefined();
    expect(reduced.profile.origin).toBe('embedded');
    expect(reduced.profile).toEqual(whole.profile);
  });

  it('an odd size keeps its places within one pixel of the photo', async () => {
    const samples = new Uint8Array(3 * 3601 * 2701).fill(40);
    // One light column, whose middle is told by the light on either side of it.
    for (let y = 0; y < 2701; y++)
      for (let x = 3000; x < 3030; x++) samples.fill(220, 3 * (y * 3601 + x), 3 * (y * 3601 + x) + 3);
    const bytes = await sharp(samples, { raw: { width: 3601, height: 2701, channels: 3 } })
      .jpeg()
      .toBuffer();
    const reduced = await decodeToMeasure(bytes);
    expect([reduced.widthPx, reduced.heightPx]).toEqual([1200, 900]);
    const [across] = pixelsJoined(reduced);
    let [sum, moment] = [0, 0];
    for (let x = 980; x < 1030; x++) {
      const light = reduced.codes[3 * (450 * 1200 + x)] - 40;
      sum += light;
      moment += light * (x + 0.5);
    }
    expect(Math.abs((across * moment) / sum - 3015)).toBeLessThan(1);
  });

  it('a preview of it says the size of the photo itself', async () => {
    const photo = await decodeToMeasure(await quarterPhoto(0).jpeg().toBuffer());
    const { widthPx, photoWidthPx, photoHeightPx } = await previewOf(photo, { widthPx: 400 });
    expect([widthPx, photoWidthPx, photoHeightPx]).toEqual([400, WIDTH, HEIGHT]);
  });
});

describe('a large photo is refused as a small one is', () => {
  it('cut short in its middle, or in its last rows', async () => {
    const bytes = await quarterPhoto().jpeg({ quality: 92 }).toBuffer();
    for (const share of [0.5, 0.99])
      await expect(
        decodeToMeasure(bytes.subarray(0, Math.floor(share * bytes.length))),
      ).rejects.toMatchObject({
        code: 'photo-damaged',
      });
  });
});

describe('what is not a large JPEG comes as it is', () => {
  it('a PNG of 9.7 MP', async () => {
    const photo = await decodeToMeasure(await quarterPhoto(0).png({ compressionLevel: 1 }).toBuffer());
    expect([photo.widthPx, photo.heightPx, photo.full]).toEqual([WIDTH, HEIGHT, undefined]);
  });
});
