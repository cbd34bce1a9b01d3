import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { codesAt, labAt } from './reading.ts';

const file = (name: string) => readFileSync(new URL(`files/${name}`, import.meta.url));

/** What files/MANIFEST.md says of all three: four flat quarters in Display P3 codes, 96 × 128 px upright. */
const quarters = [
  { x: 24, y: 32, codes: [20, 210, 220] },
  { x: 72, y: 32, codes: [200, 60, 50] },
  { x: 24, y: 96, codes: [120, 120, 120] },
  { x: 72, y: 96, codes: [30, 60, 160] },
] as const;

describe('HEIC and AVIF files', () => {
  it('are the ones that the manifest describes', () => {
    const manifest = file('MANIFEST.md').toString('utf8');
    for (const name of ['quarters-p3-irot.heic', 'quarters-p3-nclx.heic', 'quarters-p3-nclx.avif']) {
      const line = manifest.split('\n').find((row) => row.startsWith(`| ${name} `));
      expect(line).toContain(createHash('sha256').update(file(name)).digest('hex'));
    }
  });

  // The first is stored lying, with irot 270° and EXIF orientation 6, which say the same: turned twice it would lie again.
  it.each([
    ['quarters-p3-irot.heic', 'heic'],
    ['quarters-p3-nclx.heic', 'heic'],
    ['quarters-p3-nclx.avif', 'avif'],
  ])('%s stands upright, turned once', async (name, format) => {
    const photo = await decodePhoto(file(name));
    expect(photo).toMatchObject({ widthPx: 96, heightPx: 128, format, maxCode: 255 });
    for (const { x, y, codes } of quarters) {
      const actual = codesAt(photo, y * 96 + x);
      for (let c = 0; c < 3; c++) {
        expect(Math.abs(actual[c] - codes[c])).toBeLessThanOrEqual(tolerance.flatAfterCompressionCodes);
      }
    }
  });

  // Source: colorjs.io's Display P3. The first file has an ICC profile, the others name P3 by the code points of H.273.
  it.each(['quarters-p3-irot.heic', 'quarters-p3-nclx.heic', 'quarters-p3-nclx.avif'])(
    '%s is read as Display P3, its cyan outside sRGB included',
    async (name) => {
      const photo = await decodePhoto(file(name));
      expect(photo.profile.origin).toBe('embedded');
      // The ICC profile is a compact one whose colorants are rounded: up to 0.21 ΔE00 in the cyan.
      const within = name.includes('irot') ? tolerance.sameSceneDeltaE00 : 0.01;
      for (const { x, y } of quarters) {
        const pixel = y * 96 + x;
        const encoded = codesAt(photo, pixel).map((code) => code / 255) as [number, number, number];
        const [L, a, b] = new Color('p3', encoded).to('lab-d65').coords as number[];
        expect(deltaE00(labAt(photo, pixel), { L, a, b })).toBeLessThan(within);
      }
    },
  );

  it('of 10 bits keep them: codes of a quarter of an 8-bit step, white at 1023', async () => {
    const bytes = file('quarters-10bit.heic');
    expect(file('MANIFEST.md').toString('utf8')).toContain(createHash('sha256').update(bytes).digest('hex'));
    const photo = await decodePhoto(bytes);
    expect(photo).toMatchObject({ widthPx: 96, heightPx: 128, format: 'heic', maxCode: 65535 });
    for (const [x, y, codes] of [
      [24, 32, [81, 841, 881]],
      [72, 32, [801, 241, 203]],
      [24, 96, [481, 482, 483]],
      [72, 96, [121, 243, 641]],
    ] as const) {
      const actual = codesAt(photo, y * 96 + x);
      for (let c = 0; c < 3; c++) {
        expect(actual[c] % 64).toBe(0);
        expect(Math.abs(actual[c] / 64 - codes[c])).toBeLessThanOrEqual(
          4 * tolerance.flatAfterCompressionCodes,
        );
      }
    }
    expect(photo.profile.linear[1][1023 * 64]).toBe(1);
  });

  it('that are cut short are refused as damaged', async () => {
    for (const name of ['quarters-p3-irot.heic', 'quarters-p3-nclx.avif']) {
      const bytes = file(name);
      for (const share of [0.3, 0.6, 0.9]) {
        await expect(decodePhoto(bytes.subarray(0, Math.floor(share * bytes.length)))).rejects.toMatchObject({
          code: 'photo-damaged',
          message: expect.stringContaining('Copy it again'),
        });
      }
    }
  });
});
