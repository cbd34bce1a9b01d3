import sharp from 'sharp';
import { AnalysisError } from '../errors.ts';
import type { Photo } from './photo.ts';
import { assumedSrgb } from './srgb.ts';

const formats: Readonly<Record<string, Photo['format']>> = {
  jpeg: 'jpeg',
  png: 'png',
  webp: 'webp',
  tiff: 'tiff',
  heif: 'avif',
};

/** What does this file show, upright, and how do its code values become light? */
export async function decodePhoto(bytes: Uint8Array): Promise<Photo> {
  try {
    const image = sharp(bytes, { failOn: 'error' });
    const { format } = await image.metadata();
    const known = formats[format ?? ''];
    if (known === undefined) {
      throw new AnalysisError('photo-format-unsupported', 'Save the photo as JPEG and try again.');
    }
    const { data, info } = await image
      .autoOrient()
      .toColourspace('srgb')
      .removeAlpha()
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    const codes = new Uint8Array(data.buffer, data.byteOffset, data.length);
    return {
      widthPx: info.width,
      heightPx: info.height,
      codes,
      maxCode: 255,
      profile: assumedSrgb(255),
      format: known,
    };
  } catch (cause) {
    if (cause instanceof AnalysisError) throw cause;
    throw new AnalysisError(
      'photo-unreadable',
      'This file could not be read as a photo; save it as JPEG and try again.',
      { cause },
    );
  }
}
