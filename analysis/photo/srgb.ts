import type { Matrix3 } from '../colour/matrix3.ts';
import type { RgbProfile } from './photo.ts';

/** Linear sRGB to XYZ, D65; exact from the primaries and white of IEC 61966-2-1. */
export const srgbToXyz65: Matrix3 = [
  0.4123907992659595, 0.357584339383878, 0.1804807884018343, 0.2126390058715104, 0.7151686787677559,
  0.0721923153607337, 0.0193308187155918, 0.119194779794626, 0.9505321522496606,
];

/** Linear light 0..1 of an sRGB-encoded value 0..1. Source: IEC 61966-2-1. */
export function srgbDecoded(encoded: number): number {
  return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
}

/** One entry per code value: linear light 0..1. */
export function tableOf(maxCode: 255 | 65535, curve: (encoded: number) => number): Float32Array {
  return Float32Array.from({ length: maxCode + 1 }, (_, code) => curve(code / maxCode));
}

/** What a photo without a profile is taken to be. */
export function assumedSrgb(maxCode: 255 | 65535): RgbProfile {
  const linear = tableOf(maxCode, srgbDecoded);
  return { name: 'sRGB', origin: 'assumed-srgb', linear: [linear, linear, linear], toXyz65: srgbToXyz65 };
}
