import { readFileSync } from 'node:fs';
import Color from 'colorjs.io';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { previewJpeg } from '../../../analysis/photo/preview.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { stripesPng } from './files.ts';

describe('a preview', () => {
  // Source: colorjs.io for the sRGB codes; the HEIC is described in files/MANIFEST.md.
  it('shows a lying Display P3 HEIC upright, 48 px wide, in sRGB', async () => {
    const heic = readFileSync(new URL('files/quarters-p3-irot.heic', import.meta.url));
    const preview = await previewJpeg(heic, { widthPx: 48 });
    expect(preview).toMatchObject({ widthPx: 48, heightPx: 64, photoWidthPx: 96, photoHeightPx: 128 });
    const { format, width, orientation, hasProfile } = await sharp(preview.jpeg).metadata();
    expect({ format, width, orientation: orientation ?? 1, hasProfile }).toEqual({
      format: 'jpeg',
      width: 48,
      orientation: 1,
      hasProfile: false,
    });
    const pixels = await sharp(preview.jpeg).raw().toBuffer();
    for (const [x, y, p3] of [
      [36, 16, [200, 60, 50]],
      [12, 48, [120, 120, 120]],
      [36, 48, [30, 60, 160]],
    ] as const) {
      const srgb = new Color('p3', p3.map((code) => code / 255) as [number, number, number])
        .to('srgb')
        .toGamut().coords;
      for (let c = 0; c < 3; c++) {
        expect(Math.abs(pixels[3 * (48 * y + x) + c] - 255 * (srgb[c] as number))).toBeLessThan(6);
      }
    }
  });

  it('is never wider than the photo', async () => {
    const preview = await previewJpeg(await stripesPng([[90, 120, 160]]), { widthPx: 800 });
    expect(preview).toMatchObject({ widthPx: 64, heightPx: 64, photoWidthPx: 64, photoHeightPx: 64 });
    const codes = await sharp(preview.jpeg).raw().toBuffer();
    [90, 120, 160].forEach((code, c) => {
      expect(Math.abs(codes[c] - code)).toBeLessThanOrEqual(tolerance.flatAfterCompressionCodes);
    });
  });

  it('refuses what can’t be read, with the remedy', async () => {
    await expect(previewJpeg(new Uint8Array(10), { widthPx: 80 })).rejects.toMatchObject({
      code: 'photo-format-unsupported',
    });
  });
});
