import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { cicpProfile } from '../../../analysis/photo/cicp.ts';

/** XYZ of full red, green and blue, from colorjs.io. */
function columns(linearSpace: string): readonly number[][] {
  return [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ].map((rgb) => new Color(linearSpace, rgb as [number, number, number]).to('xyz-d65').coords as number[]);
}

describe('colour by code points', () => {
  it.each([
    [1, 'srgb-linear', 'sRGB'],
    [12, 'p3-linear', 'Display P3'],
    [9, 'rec2020-linear', 'BT.2020'],
  ])('primaries %i have the matrix of colorjs.io’s %s within 1e-9', (primaries, space, name) => {
    const profile = cicpProfile({ primaries, transfer: 13 }, 255, 255);
    expect(profile).toMatchObject({ name, origin: 'embedded' });
    columns(space).forEach((xyz, column) => {
      xyz.forEach((value, row) => {
        expect(Math.abs(profile.toXyz65[3 * row + column] - value)).toBeLessThan(1e-9);
      });
    });
  });

  // Source: ITU-T H.273 table 3; half of the encoded range, in 16 bit.
  it.each([
    [1, ((0.5 + 0.099297) / 1.099297) ** (1 / 0.45)],
    [4, 0.5 ** 2.2],
    [5, 0.5 ** 2.8],
    [8, 0.5],
    [13, 0.21404114],
  ])('transfer %i turns half the range into light %f', (transfer, light) => {
    const { linear } = cicpProfile({ primaries: 1, transfer }, 65535, 65535);
    expect(Math.abs((linear[0][32767] + linear[0][32768]) / 2 - light)).toBeLessThan(1e-5);
  });

  it('unspecified on both counts is sRGB, assumed', () => {
    expect(cicpProfile({ primaries: 2, transfer: 2 }, 255, 255)).toMatchObject({
      name: 'sRGB',
      origin: 'assumed-srgb',
    });
  });

  it.each([16, 18])('transfer %i is for HDR screens and refused with the remedy', (transfer) => {
    expect(() => cicpProfile({ primaries: 9, transfer }, 255, 255)).toThrow(/HDR.*sRGB or Display P3/);
  });

  it('code points that no photo uses are refused', () => {
    expect(() => cicpProfile({ primaries: 10, transfer: 13 }, 255, 255)).toThrow(/10\/13/);
  });
});
