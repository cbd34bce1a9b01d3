import Color from 'colorjs.io';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { marksAdobeRgb } from '../../../analysis/photo/exifColour.ts';
import { codesAt, labAt } from './reading.ts';

/**
 * EXIF data of three directories (CIPA DC-008, 4.6): main with a pointer to EXIF, EXIF with ColorSpace and a pointer to
 * interoperability, that with its index.
 */
const exifOf = (colourSpace: number, index: string, order: 'II' | 'MM' = 'MM'): Buffer => {
  const little = order === 'II';
  const bytes = Buffer.alloc(80);
  const u16 = (v: number, at: number) => (little ? bytes.writeUInt16LE(v, at) : bytes.writeUInt16BE(v, at));
  const u32 = (v: number, at: number) => (little ? bytes.writeUInt32LE(v, at) : bytes.writeUInt32BE(v, at));
  bytes.write(order, 0, 'latin1');
  u16(42, 2);
  u32(8, 4);
  u16(1, 8);
  u16(0x8769, 10);
  u16(4, 12);
  u32(1, 14);
  u32(26, 18);
  u16(2, 26);
  u16(0xa001, 28);
  u16(3, 30);
  u32(1, 32);
  u16(colourSpace, 36);
  u16(0xa005, 40);
  u16(4, 42);
  u32(1, 44);
  u32(56, 48);
  u16(1, 56);
  u16(1, 58);
  u16(2, 60);
  u32(4, 62);
  bytes.write(`${index}\0`, 66, 'latin1');
  return bytes;
};

const withExif = (jpeg: Buffer, exif: Buffer): Buffer => {
  const marker = Buffer.from([0xff, 0xe1, 0, 0]);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), exif]);
  marker.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), marker, body, jpeg.subarray(2)]);
};

const cyan = { r: 40, g: 190, b: 200 };
const flat = (): Promise<Buffer> =>
  sharp({ create: { width: 64, height: 64, channels: 3, background: cyan } })
    .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
    .toBuffer();

describe('a JPEG without a profile whose EXIF data says Adobe RGB', () => {
  // Source: colorjs.io's A98 RGB, which has exponent 563/256 and the primaries of Adobe RGB (1998).
  it.each(['II', 'MM'] as const)(
    'is read as colorjs.io reads Adobe RGB, within 0.05 ΔE00 (%s)',
    async (order) => {
      const photo = await decodePhoto(withExif(await flat(), exifOf(0xffff, 'R03', order)));
      const encoded = codesAt(photo, 2080).map((code) => code / 255) as [number, number, number];
      const [L, a, b] = new Color('a98rgb', encoded).to('lab-d65').coords as number[];
      expect(deltaE00(labAt(photo, 2080), { L, a, b })).toBeLessThan(0.05);
      expect(photo.profile.name).toBe('Adobe RGB (1998), by its EXIF data');
    },
  );

  it('differs from sRGB by more than 3 ΔE00 in a cyan, so the mark matters', async () => {
    const [marked, plain] = await Promise.all([
      decodePhoto(withExif(await flat(), exifOf(0xffff, 'R03'))),
      decodePhoto(withExif(await flat(), exifOf(1, 'R98'))),
    ]);
    expect(plain.profile.name).toBe('sRGB');
    expect(deltaE00(labAt(marked, 2080), labAt(plain, 2080))).toBeGreaterThan(3);
  });

  it('is not one that says sRGB, says nothing of its index, or is damaged', () => {
    expect(marksAdobeRgb(exifOf(1, 'R98'))).toBe(false);
    expect(marksAdobeRgb(exifOf(0xffff, 'R98'))).toBe(false);
    for (let length = 0; length < 70; length++) {
      const cut = exifOf(0xffff, 'R03').subarray(0, length);
      expect(() => marksAdobeRgb(cut)).not.toThrow();
    }
  });

  it('keeps to its embedded profile where it has one', async () => {
    const tagged = await sharp(await flat())
      .withIccProfile('p3')
      .jpeg()
      .toBuffer();
    const photo = await decodePhoto(withExif(tagged, exifOf(0xffff, 'R03')));
    expect(photo.profile.name).not.toContain('Adobe');
  });
});
