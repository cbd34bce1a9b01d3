import {
  cmsFLAGS_HIGHRESPRECALC,
  INTENT_RELATIVE_COLORIMETRIC,
  TYPE_Lab_16,
  TYPE_RGB_8,
  TYPE_RGB_16,
} from 'lcms-wasm';
import { bradford } from '../colour/adaptation.ts';
import { chainMatrix3, inverseMatrix3 } from '../colour/matrix3.ts';
import { whiteD50Icc, whiteD65 } from '../colour/white.ts';
import { clippingLimits } from './clipping.ts';
import { colourUnsupported } from './colourUnsupported.ts';
import type { Icc } from './icc.ts';
import type { RgbProfile } from './photo.ts';
import type { Raster } from './raster.ts';
import { toXyzMatrix } from './rgbSpace.ts';
import { srgbDecoded, srgbEncoded, tableOf } from './srgb.ts';

const CHUNK_PX = 1 << 16;

/** A space wide enough for any surface colour: the primaries of BT.2020. */
const wideToXyz65 = toXyzMatrix([0.708, 0.292, 0.17, 0.797, 0.131, 0.046], whiteD65);
const xyz50ToWide = chainMatrix3(inverseMatrix3(wideToXyz65), bradford(whiteD50Icc, whiteD65));

/** A photo's codes restated in a space with a matrix, and which pixels the file itself had clipped. */
interface Restated {
  readonly codes: Uint16Array;
  readonly maxCode: 65535;
  readonly clippedInFile: Uint8Array;
  readonly profile: RgbProfile;
}

/**
 * What are the code values of a photo whose profile is made of tables (scanners, some cameras), restated in 16 bit
 * in a wide space with a matrix? Through the profile's relative colorimetric tables to CIELAB and on to BT.2020
 * primaries; only colours outside that space are clipped.
 */
export function throughTables(icc: Icc, { codes, maxCode }: Raster): Restated {
  const { lcms, profile, name } = icc;
  const transform = lcms.cmsCreateTransform(
    profile,
    maxCode === 255 ? TYPE_RGB_8 : TYPE_RGB_16,
    lcms.cmsCreateLab4Profile(null),
    TYPE_Lab_16,
    INTENT_RELATIVE_COLORIMETRIC,
    cmsFLAGS_HIGHRESPRECALC,
  );
  if (transform === 0)
    throw colourUnsupported('The photo’s colour profile can’t be read.', 'profile-unreadable');
  const restated = new Uint16Array(codes.length);
  for (let from = 0; from < codes.length; from += 3 * CHUNK_PX) {
    const chunk = codes.subarray(from, from + 3 * CHUNK_PX);
    const lab = lcms.cmsDoTransform<Uint16Array>(transform, chunk, chunk.length / 3);
    writeWide(lab, restated.subarray(from, from + chunk.length));
  }
  const linear = tableOf(65535, 65535, srgbDecoded);
  return {
    codes: restated,
    maxCode: 65535,
    clippedInFile: clippedPixels(codes, maxCode),
    profile: { name, origin: 'embedded', linear: [linear, linear, linear], toXyz65: wideToXyz65 },
  };
}

const encoded16 = Uint16Array.from({ length: 65536 }, (_, i) => Math.round(65535 * srgbEncoded(i / 65535)));

/** ICC's 16-bit CIELAB (L* 0..100, a* and b* -128..127 over the range) to encoded wide RGB. */
function writeWide(lab: Uint16Array, wide: Uint16Array): void {
  const m = xyz50ToWide;
  const code = (linear: number) =>
    encoded16[linear <= 0 ? 0 : linear >= 1 ? 65535 : Math.round(65535 * linear)];
  for (let i = 0; i < lab.length; i += 3) {
    const fy = ((100 / 65535) * lab[i] + 16) / 116;
    const X = whiteD50Icc[0] * unbent(fy + (lab[i + 1] / 257 - 128) / 500);
    const Y = unbent(fy);
    const Z = whiteD50Icc[2] * unbent(fy - (lab[i + 2] / 257 - 128) / 200);
    wide[i] = code(m[0] * X + m[1] * Y + m[2] * Z);
    wide[i + 1] = code(m[3] * X + m[4] * Y + m[5] * Z);
    wide[i + 2] = code(m[6] * X + m[7] * Y + m[8] * Z);
  }
}

/** The inverse of CIELAB's f. Source: CIE 15. */
function unbent(t: number): number {
  return t > 6 / 29 ? t * t * t : ((116 * t - 16) * 27) / 24389;
}

function clippedPixels(codes: Uint8Array | Uint16Array, maxCode: 255 | 65535): Uint8Array {
  const { low, high } = clippingLimits(maxCode);
  const out = (code: number) => code <= low || code >= high;
  return Uint8Array.from({ length: codes.length / 3 }, (_, i) =>
    out(codes[3 * i]) || out(codes[3 * i + 1]) || out(codes[3 * i + 2]) ? 1 : 0,
  );
}
