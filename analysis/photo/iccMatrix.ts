import { cmsFLAGS_NOCACHE, cmsFLAGS_NOOPTIMIZE, INTENT_RELATIVE_COLORIMETRIC } from 'lcms-wasm';
import { bradford } from '../colour/adaptation.ts';
import { chainMatrix3, type Matrix3 } from '../colour/matrix3.ts';
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
  const linearOf = rampReader(icc, maxCode, whiteCode);
  if (icc.space === 'GRAY') {
    const linear = linearOf(0, [0, 1, 0]);
    return { name: icc.name, origin: 'embedded', linear: [linear, linear, linear], toXyz65: srgbToXyz65 };
  }
  const colorant = (tag: string) => icc.lcms.cmsReadTag_XYZ(icc.profile, signature(tag));
  const [r, g, b] = [colorant('rXYZ'), colorant('gXYZ'), colorant('bXYZ')];
  if (r === null || g === null || b === null)
    throw colourUnsupported('The photo’s colour profile is incomplete.');
  const toXyz50: Matrix3 = [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]];
  return {
    name: icc.name,
    origin: 'embedded',
    linear: [linearOf(0, r), linearOf(1, g), linearOf(2, b)],
    toXyz65: chainMatrix3(toD65, toXyz50),
  };
}

/** Sends every code of one channel through the profile and reads off its light as a share of the channel's colorant. */
function rampReader({ lcms, profile, space }: Icc, maxCode: number, whiteCode: number) {
  const channels = space === 'GRAY' ? 1 : 3;
  const transform = lcms.cmsCreateTransform(
    profile,
    channels === 1 ? GRAY_FLOAT : RGB_FLOAT,
    lcms.cmsCreateXYZProfile(),
    XYZ_FLOAT,
    INTENT_RELATIVE_COLORIMETRIC,
    cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE,
  );
  if (transform === 0) throw colourUnsupported('The photo’s colour profile is incomplete.');
  return (channel: 0 | 1 | 2, colorant: ArrayLike<number>): Float32Array => {
    const codes = maxCode + 1;
    const ramp = new Float32Array(channels * codes);
    for (let code = 0; code < codes; code++) ramp[channels * code + channel] = Math.min(code / whiteCode, 1);
    const xyz = lcms.cmsDoTransform<Float32Array>(transform, ramp, codes);
    const [X, Y, Z] = [colorant[0], colorant[1], colorant[2]];
    const scale = 1 / (X * X + Y * Y + Z * Z);
    return Float32Array.from(
      { length: codes },
      (_, code) => (xyz[3 * code] * X + xyz[3 * code + 1] * Y + xyz[3 * code + 2] * Z) * scale,
    );
  };
}
