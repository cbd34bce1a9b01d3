import { cmsFLAGS_NOCACHE, cmsFLAGS_NOOPTIMIZE, INTENT_RELATIVE_COLORIMETRIC } from 'lcms-wasm';
import { bradford } from '../colour/adaptation.ts';
import { chainMatrix3, inverseMatrix3, type Matrix3 } from '../colour/matrix3.ts';
import { whiteD50Icc, whiteD65 } from '../colour/white.ts';
import { colourUnsupported } from './colourUnsupported.ts';
import { type Icc, signature } from './icc.ts';
import type { RgbProfile } from './photo.ts';
import { srgbToXyz65 } from './srgb.ts';

/** Sample layouts of the engine: 32-bit float, one or three channels. */
const FLOAT = (1 << 22) | 4;
const GRAY_FLOAT = FLOAT | (3 << 16) | (1 << 3);
const RGB_FLOAT = FLOAT | (4 << 16) | (3 << 3);
const XYZ_FLOAT = FLOAT | (9 << 16) | (3 << 3);

const toD65 = bradford(whiteD50Icc, whiteD65);

/**
 * How do code values become light under this matrix or grey profile? The profile's own curves as one table per
 * channel, its colorants as one matrix brought from the profile's D50 to D65 by linear Bradford adaptation; colours
 * outside sRGB keep their place. Relative colorimetric: the file's white is light 1.
 *
 * Throws `profile-unsupported` where curves or colorants are missing.
 */
export function matrixProfile(icc: Icc, maxCode: 255 | 65535, whiteCode: number): RgbProfile {
  const neutrals = lightOfNeutrals(icc, maxCode, whiteCode);
  if (icc.space === 'GRAY') {
    const linear = Float32Array.from({ length: maxCode + 1 }, (_, code) => neutrals[3 * code + 1]);
    return { name: icc.name, origin: 'embedded', linear: [linear, linear, linear], toXyz65: srgbToXyz65 };
  }
  const toXyz50 = colorantMatrix(icc);
  const toDevice = inverseMatrix3(toXyz50);
  if (!toDevice.every(Number.isFinite))
    throw colourUnsupported('The photo’s colour profile is damaged.', 'profile-damaged');
  const curve = (channel: 0 | 1 | 2) => {
    const [a, b, c] = toDevice.slice(3 * channel, 3 * channel + 3);
    return Float32Array.from(
      { length: maxCode + 1 },
      (_, code) => a * neutrals[3 * code] + b * neutrals[3 * code + 1] + c * neutrals[3 * code + 2],
    );
  };
  return {
    name: icc.name,
    origin: 'embedded',
    linear: [curve(0), curve(1), curve(2)],
    toXyz65: chainMatrix3(toD65, toXyz50),
  };
}

function colorantMatrix({ lcms, profile }: Icc): Matrix3 {
  const colorant = (tag: string) => lcms.cmsReadTag_XYZ(profile, signature(tag));
  const [r, g, b] = [colorant('rXYZ'), colorant('gXYZ'), colorant('bXYZ')];
  if (r === null || g === null || b === null)
    throw colourUnsupported('The photo’s colour profile is incomplete.', 'profile-incomplete');
  return [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]];
}

/**
 * XYZ, D50, of every code sent through the profile in all channels at once. Undoing the colorants then gives each
 * channel's own curve, also where curves differ or don't start at no light.
 */
function lightOfNeutrals({ lcms, profile, space }: Icc, maxCode: number, whiteCode: number): Float32Array {
  const channels = space === 'GRAY' ? 1 : 3;
  const transform = lcms.cmsCreateTransform(
    profile,
    channels === 1 ? GRAY_FLOAT : RGB_FLOAT,
    lcms.cmsCreateXYZProfile(),
    XYZ_FLOAT,
    INTENT_RELATIVE_COLORIMETRIC,
    cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE,
  );
  if (transform === 0)
    throw colourUnsupported('The photo’s colour profile is incomplete.', 'profile-incomplete');
  const encoded = Float32Array.from({ length: channels * (maxCode + 1) }, (_, i) =>
    Math.min(Math.floor(i / channels) / whiteCode, 1),
  );
  return lcms.cmsDoTransform<Float32Array>(transform, encoded, maxCode + 1);
}
