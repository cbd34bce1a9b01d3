import type { Xyz } from './lab.ts';

/** XYZ at Y = 1 of a chromaticity. */
function whiteOfChromaticity(x: number, y: number): Xyz {
  return [x / y, 1, (1 - x - y) / y];
}

/** D65 as sRGB and Display P3 define it: x 0.3127, y 0.3290 (IEC 61966-2-1). */
export const whiteD65: Xyz = whiteOfChromaticity(0.3127, 0.329);

/** D50: x 0.3457, y 0.3585 (CIE 15, four decimals). */
export const whiteD50: Xyz = whiteOfChromaticity(0.3457, 0.3585);

/** D50 as ICC profiles store their connection space: the nearest s15Fixed16 numbers to 0.9642, 1, 0.8249. */
export const whiteD50Icc: Xyz = [0xf6d6 / 65536, 1, 0xd32d / 65536];
