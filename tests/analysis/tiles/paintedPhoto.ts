import type { Photo, Rgb } from '../../../analysis/photo/photo.ts';
import { assumedSrgb } from '../../../analysis/photo/srgb.ts';

/** A photo painted pixel by pixel with sRGB code values; 8 bit, or 16 bit with codes 0..65535. */
export const paintedPhoto = (
  widthPx: number,
  heightPx: number,
  codeAt: (x: number, y: number) => Rgb,
  maxCode: 255 | 65535 = 255,
): Photo => {
  const codes =
    maxCode === 255 ? new Uint8Array(3 * widthPx * heightPx) : new Uint16Array(3 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) codes.set(codeAt(x, y), 3 * (y * widthPx + x));
  return { widthPx, heightPx, codes, maxCode, profile: assumedSrgb(maxCode, maxCode), format: 'png' };
};

/** The same code in all three channels. */
export const grey = (code: number): Rgb => [code, code, code];

/** Linear light of an sRGB code 0..255. Source: IEC 61966-2-1, written out here so that it does not lean on the code under test. */
export const srgbLight = (code: number): number =>
  code <= 10.31475 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4;

/** A rectangle as corners, clockwise from the top left. */
export const box = (left: number, top: number, right: number, bottom: number) =>
  [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ] as const;
