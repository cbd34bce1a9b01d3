import type { Matrix3 } from '../colour/matrix3.ts';
import { whiteD65 } from '../colour/white.ts';
import { colourUnsupported } from './colourUnsupported.ts';
import type { RgbProfile } from './photo.ts';
import { type Primaries, toXyzMatrix } from './rgbSpace.ts';
import { assumedSrgb, srgbDecoded, tableOf } from './srgb.ts';

/** Colour as two of the code points of ITU-T H.273: which primaries, which transfer. */
export interface Cicp {
  readonly primaries: number;
  readonly transfer: number;
}

const UNSPECIFIED = 2;

const bt709: Primaries = [0.64, 0.33, 0.3, 0.6, 0.15, 0.06];

/** All with the white D65. Source: ITU-T H.273 table 2. */
const primariesOf: Readonly<Record<number, readonly [name: string, primaries: Primaries]>> = {
  1: ['BT.709', bt709],
  2: ['BT.709', bt709],
  5: ['BT.601 625 lines', [0.64, 0.33, 0.29, 0.6, 0.15, 0.06]],
  6: ['BT.601 525 lines', [0.63, 0.34, 0.31, 0.595, 0.155, 0.07]],
  9: ['BT.2020', [0.708, 0.292, 0.17, 0.797, 0.131, 0.046]],
  12: ['Display P3', [0.68, 0.32, 0.265, 0.69, 0.15, 0.06]],
};

const bt709Decoded = (v: number) =>
  v < 4.5 * 0.018053968510807 ? v / 4.5 : ((v + 0.09929682680944) / 1.09929682680944) ** (1 / 0.45);

/** Encoded value 0..1 to linear light 0..1. Source: ITU-T H.273 table 3. */
const transferOf: Readonly<Record<number, (encoded: number) => number>> = {
  1: bt709Decoded,
  2: srgbDecoded,
  4: (v) => v ** 2.2,
  5: (v) => v ** 2.8,
  6: bt709Decoded,
  8: (v) => v,
  13: srgbDecoded,
  14: bt709Decoded,
  15: bt709Decoded,
};

/**
 * How do code values become light in a file that names its colour by code points instead of a profile (AVIF, HEIC)?
 * Throws `profile-unsupported` for high dynamic range transfers and for code points that no photo uses.
 */
export function cicpProfile(cicp: Cicp, maxCode: 255 | 65535, whiteCode: number): RgbProfile {
  if (cicp.primaries === UNSPECIFIED && cicp.transfer === UNSPECIFIED) return assumedSrgb(maxCode, whiteCode);
  if (cicp.transfer === 16 || cicp.transfer === 18) {
    throw colourUnsupported(
      'The photo is stored for HDR screens. Switch HDR off in the camera settings, or:',
      'hdr',
    );
  }
  const space = primariesOf[cicp.primaries];
  const transfer = transferOf[cicp.transfer];
  if (space === undefined || transfer === undefined) {
    throw colourUnsupported(
      `The photo’s colour code (${cicp.primaries}/${cicp.transfer}) is not one that photos use.`,
      'code',
      `${cicp.primaries}/${cicp.transfer}`,
    );
  }
  const [name, primaries] = space;
  const linear = tableOf(maxCode, whiteCode, transfer);
  const toXyz65: Matrix3 = toXyzMatrix(primaries, whiteD65);
  return {
    name: name === 'BT.709' && transfer === srgbDecoded ? 'sRGB' : name,
    origin: 'embedded',
    linear: [linear, linear, linear],
    toXyz65,
  };
}
