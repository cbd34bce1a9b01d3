import { whiteD65 } from '../colour/white.ts';
import type { RgbProfile } from './photo.ts';
import { toXyzMatrix } from './rgbSpace.ts';
import { tableOf } from './srgb.ts';

/** 2 + 51/256. Source: [AdobeRGB]. */
const GAMMA = 563 / 256;

/** Linear Adobe RGB to XYZ, D65. Source: primaries and white of [AdobeRGB]. */
const toXyz65 = toXyzMatrix([0.64, 0.33, 0.21, 0.71, 0.15, 0.06], whiteD65);

/** What a photo is that says in its EXIF data alone that it is Adobe RGB. */
export const exifAdobeRgb = (maxCode: 255 | 65535, whiteCode: number): RgbProfile => {
  const linear = tableOf(maxCode, whiteCode, (v) => v ** GAMMA);
  return {
    name: 'Adobe RGB (1998), by its EXIF data',
    origin: 'embedded',
    linear: [linear, linear, linear],
    toXyz65,
  };
};
