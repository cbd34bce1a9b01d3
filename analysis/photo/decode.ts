import { AnalysisError } from '../errors.ts';
import { exifAdobeRgb } from './adobeRgb.ts';
import { readBitmap } from './bitmap.ts';
import { cicpProfile } from './cicp.ts';
import { colourUnsupported } from './colourUnsupported.ts';
import { photoFormat } from './format.ts';
import { readHeic } from './heif.ts';
import { hasTables, openIcc } from './icc.ts';
import { matrixProfile } from './iccMatrix.ts';
import { throughTables } from './iccTables.ts';
import type { Photo } from './photo.ts';
import type { Raster } from './raster.ts';
import { assumedSrgb } from './srgb.ts';

/**
 * What did the camera see: which code values, upright, and how do they become light?
 *
 * `bytes`: a whole JPEG, PNG, WebP, TIFF (8 or 16 bit), AVIF or HEIC file. Returns the code values as stored (grey
 * repeated to three channels; see-through pixels as black, which counts as clipped) with the profile's curves and
 * its matrix to XYZ, D65. Nothing is clipped to sRGB. A file without a profile is taken to be sRGB, or Adobe RGB where its EXIF
 * data says so.
 *
 * Throws AnalysisError, each with what to do next: `photo-unreadable` (empty, or see-through), `photo-damaged`,
 * `photo-format-unsupported` (other formats, moving pictures, raw files), `photo-too-large` (over 100 megapixels),
 * `photo-too-small` (under 64 × 64 px), `profile-unsupported` (CMYK, HDR, broken profiles).
 * Source: ICC.1 (profiles), ITU-T H.273 (code points), EXIF (orientation), ISO/IEC 23008-12 (HEIF).
 */
export async function decodePhoto(bytes: Uint8Array): Promise<Photo> {
  return decode(bytes, false);
}

/**
 * The same with no more pixels than measuring needs: a large JPEG is decoded to fewer, which is quicker than decoding
 * it whole. Each pixel is then the mean code of some of the file's, and `full` says how many pixels the photo has.
 * Other formats, and photos that are not large, come as they are.
 *
 * A mean of codes lies a little below the code of the mean light, by half the curve's bend times the variance that
 * was averaged away; the bench prints what that does to readings (docs/decisions/0012).
 */
export async function decodeToMeasure(bytes: Uint8Array): Promise<Photo> {
  return decode(bytes, true);
}

async function decode(bytes: Uint8Array, reduced: boolean): Promise<Photo> {
  const format = photoFormat(bytes);
  const raster = format === 'heic' ? await readHeic(bytes) : await readBitmap(bytes, format, reduced);
  const { widthPx, heightPx, full } = raster;
  return { widthPx, heightPx, ...(full && { full }), format, ...(await withProfile(raster)) };
}

type Coloured = Pick<Photo, 'codes' | 'maxCode' | 'profile' | 'clippedInFile'>;

async function withProfile(raster: Raster): Promise<Coloured> {
  const { icc, cicp, codes, maxCode, whiteCode } = raster;
  if (icc !== null) return withIcc(raster, icc);
  if (cicp !== null) return { codes, maxCode, profile: cicpProfile(cicp, maxCode, whiteCode) };
  const profile = raster.exifAdobeRgb ? exifAdobeRgb(maxCode, whiteCode) : assumedSrgb(maxCode, whiteCode);
  return { codes, maxCode, profile };
}

async function withIcc(raster: Raster, bytes: Uint8Array): Promise<Coloured> {
  const { codes, maxCode, whiteCode } = raster;
  try {
    const icc = await (raster.opening ?? openIcc(bytes));
    if (hasTables(icc)) return throughTables(icc, raster);
    return { codes, maxCode, profile: matrixProfile(icc, maxCode, whiteCode) };
  } catch (cause) {
    // A profile that is wrong enough stops the engine itself.
    throw cause instanceof AnalysisError
      ? cause
      : colourUnsupported('The photo’s colour profile is damaged.', 'profile-damaged', '', cause);
  }
}
