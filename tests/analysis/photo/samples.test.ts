import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { isClipped } from '../../../analysis/photo/clipping.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { type Codes, rawPng, rewritten } from './files.ts';
import { codesAt, labAt, lightAt } from './reading.ts';

/** 64 × 64 px of 16-bit samples that use all their low bits. */
const samples16 = Uint16Array.from({ length: 3 * 64 * 64 }, (_, i) => (i * 7919) % 65536);

describe('16-bit files', () => {
  it.each(['png', 'tiff'] as const)('keep all 65536 levels in %s', async (format) => {
    const photo = await decodePhoto(await rewritten(await rawPng(samples16, 64), format));
    expect(photo).toMatchObject({ format, maxCode: 65535 });
    expect(photo.codes).toEqual(samples16);
    expect(photo.profile.linear[0]).toHaveLength(65536);
  });

  // Source: IEC 61966-2-1: encoded 0.5 is linear 0.21404114.
  it('decode half the code range to light 0.21404', async () => {
    const photo = await decodePhoto(await rawPng(new Uint16Array(3 * 64 * 64).fill(32768), 64));
    expect(lightAt(photo, 100)[1]).toBeCloseTo(0.214048, 5);
  });

  it('from a 10- or 12-bit AVIF reach full light at white', async () => {
    for (const bitdepth of [10, 12] as const) {
      const white = await rawPng(new Uint16Array(3 * 64 * 64).fill(65535), 64);
      const photo = await decodePhoto(
        await sharp(white).toColourspace('rgb16').avif({ bitdepth, quality: 100 }).toBuffer(),
      );
      expect(photo.maxCode).toBe(65535);
      const pixel = 64 * 32 + 32;
      expect(codesAt(photo, pixel)[1]).toBeLessThan(65535);
      expect(lightAt(photo, pixel)[1]).toBe(1);
      expect(isClipped(photo, pixel)).toBe(true);
    }
  });
});

describe('grey files', () => {
  const grey8 = Uint8Array.from({ length: 64 * 64 }, (_, i) => i & 255);
  const grey16 = Uint16Array.from({ length: 64 * 64 }, (_, i) => i * 13);
  const raw = { width: 64, height: 64, channels: 1 } as const;

  it('of 8 bit repeat their one channel three times', async () => {
    const photo = await decodePhoto(await sharp(grey8, { raw }).toColourspace('b-w').png().toBuffer());
    expect(photo.codes).toEqual(Uint8Array.from({ length: 3 * 64 * 64 }, (_, i) => grey8[Math.floor(i / 3)]));
    expect(Math.abs(labAt(photo, 119).L - 50.034439)).toBeLessThan(1e-4); // tests/reference/srgb_lab_check.csv, 119
  });

  it('of 16 bit keep their 16 bit', async () => {
    const photo = await decodePhoto(await sharp(grey16, { raw }).toColourspace('grey16').png().toBuffer());
    expect(photo.codes).toEqual(
      Uint16Array.from({ length: 3 * 64 * 64 }, (_, i) => grey16[Math.floor(i / 3)]),
    );
  });

  it('come as JPEG too', async () => {
    const flat = new Uint8Array(64 * 64).fill(118);
    const photo = await decodePhoto(await sharp(flat, { raw }).toColourspace('b-w').jpeg().toBuffer());
    expect(codesAt(photo, 2000)).toEqual([118, 118, 118]);
  });
});

describe('see-through files', () => {
  const rgba = (alpha: (pixel: number) => number, maxCode: 255 | 65535 = 255) => {
    const unit = maxCode / 255;
    const values = Array.from({ length: 64 * 64 }, (_, i) => [
      90 * unit,
      120 * unit,
      160 * unit,
      alpha(i),
    ]).flat();
    const raw = { width: 64, height: 64, channels: 4 } as const;
    return maxCode === 255
      ? sharp(Uint8Array.from(values), { raw }).png().toBuffer()
      : sharp(Uint16Array.from(values), { raw }).toColourspace('rgb16').png().toBuffer();
  };

  it('that are opaque throughout read like files without alpha', async () => {
    const photo = await decodePhoto(await rgba(() => 255));
    expect(photo.codes).toHaveLength(3 * 64 * 64);
    expect(codesAt(photo, 4095)).toEqual([90, 120, 160] satisfies Codes);
  });

  it.each([255, 65535] as const)(
    'count every pixel that is not quite opaque as clipped, of %i',
    async (maxCode) => {
      const photo = await decodePhoto(await rgba((i) => (i % 64 < 10 ? maxCode - 1 : maxCode), maxCode));
      expect([isClipped(photo, 5), isClipped(photo, 9), isClipped(photo, 10)]).toEqual([true, true, false]);
      expect(codesAt(photo, 10)[2]).toBe((160 * maxCode) / 255);
    },
  );

  it('that are mostly see-through are refused', async () => {
    await expect(decodePhoto(await rgba((i) => (i < 2000 ? 255 : 0)))).rejects.toMatchObject({
      code: 'photo-unreadable',
      message: expect.stringContaining('without transparency'),
    });
  });
});

describe('palette files', () => {
  it('give their colours', async () => {
    const flat = { create: { width: 64, height: 64, channels: 3, background: '#1e3ca0' } } as const;
    const photo = await decodePhoto(await sharp(flat).png({ palette: true }).toBuffer());
    expect(codesAt(photo, 77)).toEqual([0x1e, 0x3c, 0xa0]);
  });
});
