import { whiteD65 } from '../colour/white.ts';
import type { RgbProfile } from './photo.ts';
import { toXyzMatrix } from './rgbSpace.ts';

/** Linear light 0..1 of an sRGB-encoded value 0..1. Source: IEC 61966-2-1. */
export function srgbDecoded(encoded: number): number {
  return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
}

/** sRGB-encoded value of linear light, both 0..1. Source: IEC 61966-2-1. */
export function srgbEncoded(linear: number): number {
  return linear <= 0.0031308 ? linear * 12.92 : 1.055 * linear ** (1 / 2.4) - 0.055;
}

/** Linear sRGB to XYZ, D65, row by row. Source: primaries and white of IEC 61966-2-1. */
export const srgbToXyz65 = toXyzMatrix([0.64, 0.33, 0.3, 0.6, 0.15, 0.06], whiteD65);

/** One entry per code value: linear light, 1 at `whiteCode` and above. */
export function tableOf(
  maxCode: 255 | 65535,
  whiteCode: number,
  curve: (encoded: number) => number,
): Float32Array {
  return Float32Array.from({ length: maxCode + 1 }, (_, code) => curve(Math.min(code / whiteCode, 1)));
}

/** What a photo is taken to be that says nothing about its colour: the web's and the cameras' default. */
export function assumedSrgb(maxCode: 255 | 65535, whiteCode: number): RgbProfile {
  const linear = tableOf(maxCode, whiteCode, srgbDecoded);
  return { name: 'sRGB', origin: 'assumed-srgb', linear: [linear, linear, linear], toXyz65: srgbToXyz65 };
}
