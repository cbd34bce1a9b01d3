import { describe, expect, it } from 'vitest';
import { clippingLimits, isClipped } from '../../../analysis/photo/clipping.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { reduceLinear } from '../../../analysis/photo/reduce.ts';
import { rawPng } from './files.ts';
import { lightAt } from './reading.ts';

/** 100 × 70 px of codes that differ from pixel to pixel. */
const codes = Uint8Array.from({ length: 3 * 100 * 70 }, (_, i) => (i * 31 + 7 * Math.floor(i / 300)) % 256);

describe('a reduced photo', () => {
  it.each([1, 2])(
    'holds the mean light of each box of 7 × 7 px, the edges’ of what is left (row step %d)',
    async (step) => {
      const photo = await decodePhoto(await rawPng(codes, 100));
      const reduced = reduceLinear(photo, 15, step);
      expect(reduced).toMatchObject({ widthPx: 15, heightPx: 10, scale: 7 });
      for (let y = 0; y < 10; y++) {
        for (let x = 0; x < 15; x++) {
          const sum = [0, 0, 0];
          let pixels = 0;
          let clipped = 0;
          for (let row = 7 * y; row < Math.min(7 * y + 7, 70); row += step) {
            for (let column = 7 * x; column < Math.min(7 * x + 7, 100); column++) {
              const pixel = 100 * row + column;
              lightAt(photo, pixel).forEach((light, c) => {
                sum[c] += light;
              });
              pixels++;
              if (isClipped(photo, pixel)) clipped++;
            }
          }
          const at = 15 * y + x;
          for (let c = 0; c < 3; c++) expect(reduced.rgb[3 * at + c]).toBeCloseTo(sum[c] / pixels, 6);
          expect(reduced.clipped[at]).toBe(Math.ceil((255 * clipped) / pixels));
        }
      }
    },
  );

  // Half black, half white: mean light 0.5, not the light 0.214 of the mean code. Source: IEC 61966-2-1.
  it('averages light, not codes: a fine black and white check comes out at light 0.5', async () => {
    const check = Uint8Array.from({ length: 3 * 64 * 64 }, (_, i) =>
      (Math.floor(i / 3) + Math.floor(i / 192)) % 2 === 0 ? 0 : 255,
    );
    const reduced = reduceLinear(await decodePhoto(await rawPng(check, 64)), 8);
    for (const light of reduced.rgb) expect(light).toBeCloseTo(0.5, 6);
  });

  it('of a photo that is small enough is the photo itself', async () => {
    const photo = await decodePhoto(await rawPng(codes, 100));
    const reduced = reduceLinear(photo, 100);
    expect(reduced).toMatchObject({ widthPx: 100, heightPx: 70, scale: 1 });
    expect([...reduced.rgb.subarray(600, 603)]).toEqual([...lightAt(photo, 200)]);
  });

  it('goes by the photo’s own mask where it has one', async () => {
    const photo = await decodePhoto(await rawPng(new Uint8Array(3 * 64 * 64).fill(255), 64));
    const clippedInFile = new Uint8Array(64 * 64);
    clippedInFile[64 * 9 + 20] = 1;
    const { clipped } = reduceLinear({ ...photo, clippedInFile }, 16);
    expect([...clipped.keys()].filter((i) => clipped[i] > 0)).toEqual([16 * 2 + 5]);
    expect(clipped[16 * 2 + 5]).toBe(16); // one pixel of 16, of 255, rounded up
  });
});

describe('a clipped pixel', () => {
  it.each([
    [[1, 100, 100], true],
    [[2, 100, 253], false],
    [[100, 254, 100], true],
    [[100, 100, 0], true],
    [[128, 128, 128], false],
  ])('with codes %j: %s', async (pixel, clipped) => {
    const photo = await decodePhoto(
      await rawPng(
        Uint8Array.from({ length: 3 * 64 * 64 }, (_, i) => pixel[i % 3]),
        64,
      ),
    );
    expect(isClipped(photo, 1000)).toBe(clipped);
    expect(reduceLinear(photo, 8).clipped[3]).toBe(clipped ? 255 : 0);
  });

  it('has the same share of the range in 16 bit: 257 and 65278', () => {
    expect(clippingLimits(65535)).toEqual({ low: 257, high: 65278 });
  });
});
