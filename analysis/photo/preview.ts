import sharp from 'sharp';
import { chainMatrix3, inverseMatrix3 } from '../colour/matrix3.ts';
import { decodePhoto } from './decode.ts';
import type { Photo } from './photo.ts';
import { type ReducedPhoto, reduceBy } from './reduce.ts';
import { fullSize } from './reduction.ts';
import { srgbEncoded, srgbToXyz65 } from './srgb.ts';

/** A small upright picture for the page, and the size of the photo that it stands for. */
export interface Preview {
  readonly jpeg: Buffer;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly photoWidthPx: number;
  readonly photoHeightPx: number;
}

/**
 * What does the photo look like on any screen? An upright sRGB JPEG at most `widthPx` wide (never wider than the
 * photo), for showing only: colours outside sRGB are clipped in it. Takes and refuses what `decodePhoto` does.
 */
export async function previewJpeg(
  bytes: Uint8Array,
  options: { readonly widthPx: number },
): Promise<Preview> {
  return previewOf(await decodePhoto(bytes), options);
}

/** The same for a photo that is decoded already. */
export async function previewOf(photo: Photo, { widthPx }: { readonly widthPx: number }): Promise<Preview> {
  const reduced = reduceBy(photo, Math.max(1, Math.floor(photo.widthPx / widthPx)));
  const { data, info } = await sharp(srgbBytes(reduced, photo), {
    raw: { width: reduced.widthPx, height: reduced.heightPx, channels: 3 },
  })
    .resize({ width: Math.min(widthPx, photo.widthPx) })
    .jpeg({ quality: 85 })
    .toBuffer({ resolveWithObject: true });
  const full = fullSize(photo);
  return {
    jpeg: data,
    widthPx: info.width,
    heightPx: info.height,
    photoWidthPx: full.widthPx,
    photoHeightPx: full.heightPx,
  };
}

const encodedOf4096 = Uint8Array.from({ length: 4097 }, (_, i) => Math.round(255 * srgbEncoded(i / 4096)));

function srgbBytes({ rgb }: ReducedPhoto, { profile }: Photo): Uint8Array {
  const m = chainMatrix3(inverseMatrix3(srgbToXyz65), profile.toXyz65);
  const bytes = new Uint8Array(rgb.length);
  const byte = (linear: number) => encodedOf4096[Math.round(4096 * Math.min(Math.max(linear, 0), 1))];
  for (let i = 0; i < rgb.length; i += 3) {
    const r = rgb[i];
    const g = rgb[i + 1];
    const b = rgb[i + 2];
    bytes[i] = byte(m[0] * r + m[1] * g + m[2] * b);
    bytes[i + 1] = byte(m[3] * r + m[4] * g + m[5] * b);
    bytes[i + 2] = byte(m[6] * r + m[7] * g + m[8] * b);
  }
  return bytes;
}
