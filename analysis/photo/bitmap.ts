import sharp, { type Metadata, type Sharp } from 'sharp';
import { AnalysisError } from '../errors.ts';
import { colourUnsupported } from './colourUnsupported.ts';
import { damaged } from './damaged.ts';
import { marksAdobeRgb } from './exifColour.ts';
import { animated } from './format.ts';
import { readHeifColour } from './heif.ts';
import { openIcc } from './icc.ts';
import { opaqueOnly } from './opaque.ts';
import type { Photo } from './photo.ts';
import type { Raster } from './raster.ts';
import { reducedSize } from './reduction.ts';
import { checkSize } from './size.ts';

/** What libjpeg says where picture data, not just a header, is wrong. */
const PIXEL_DAMAGE =
  /premature end|bad huffman|instead of RST|bad arithmetic|corrupt(ed)? (data|frame|image)/i;

/**
 * What does this JPEG, PNG, WebP, TIFF or AVIF hold, turned upright by its EXIF orientation (by its own transform
 * in AVIF)? Code values exactly as stored, 8 or 16 bit, no colour conversion. Of a TIFF of several pages, the first.
 * A large JPEG comes with fewer pixels where `reduced` is asked for, each the mean code of those that it stands for.
 */
export async function readBitmap(
  bytes: Uint8Array,
  format: Exclude<Photo['format'], 'heic'>,
  reduced = false,
): Promise<Raster> {
  const metadata = await metadataOf(bytes, format);
  const full = { widthPx: metadata.autoOrient.width, heightPx: metadata.autoOrient.height };
  checkSize(full.widthPx, full.heightPx);
  checkColourModel(metadata);
  const wide = metadata.depth === 'ushort';
  const icc = metadata.icc ?? null;
  // The profile's engine loads here while libvips decodes in a thread of its own.
  const opening = icc === null ? undefined : openIcc(icc);
  // Damage to the picture is told first, so a faulty profile waits until it is asked for.
  opening?.catch(() => undefined);
  const size = reduced && format === 'jpeg' ? reducedSize(full.widthPx, full.heightPx) : null;
  const { data, info } = await pixels(bytes, (image) =>
    // A kernel without negative parts: no halo beside an edge that could pass for clipping.
    (size ? image.resize(size.widthPx, size.heightPx, { fit: 'fill', kernel: 'linear' }) : image)
      .autoOrient()
      .toColourspace(wide ? 'rgb16' : 'srgb')
      .raw({ depth: wide ? 'ushort' : 'uchar' }),
  );
  const stored = wide
    ? new Uint16Array(data.buffer, data.byteOffset, data.length / 2)
    : new Uint8Array(data.buffer, data.byteOffset, data.length);
  const maxCode = wide ? 65535 : 255;
  const codes = info.channels === 4 ? opaqueOnly(stored, maxCode) : stored;
  if (codes.length !== 3 * info.width * info.height) {
    throw colourUnsupported(
      `The photo has ${metadata.channels} channels, which is more than red, green and blue.`,
      'channels',
      String(metadata.channels),
    );
  }
  return {
    widthPx: info.width,
    heightPx: info.height,
    ...(size && { full }),
    codes,
    maxCode,
    whiteCode: format === 'avif' ? whiteCodeOf(metadata) : maxCode,
    icc,
    ...(opening && { opening }),
    cicp: format === 'avif' && icc === null ? (await readHeifColour(bytes)).cicp : null,
    exifAdobeRgb: icc === null && metadata.exif !== undefined && marksAdobeRgb(metadata.exif),
  };
}

async function metadataOf(bytes: Uint8Array, format: Photo['format']): Promise<Metadata> {
  let metadata: Metadata;
  try {
    metadata = await sharp(bytes, { limitInputPixels: false }).metadata();
  } catch (cause) {
    throw damaged(cause);
  }
  if (metadata.format !== (format === 'avif' ? 'heif' : format)) throw damaged(metadata.format);
  if ((metadata.pages ?? 1) > 1 && format !== 'tiff' && format !== 'avif') throw animated();
  return metadata;
}

function checkColourModel({ space, depth }: Metadata): void {
  if (space === 'cmyk') {
    throw colourUnsupported(
      'The photo is stored in printing inks (CMYK), which don’t say what light the camera saw.',
      'cmyk',
    );
  }
  if (!['srgb', 'rgb', 'rgb16', 'b-w', 'grey16'].includes(space ?? '')) {
    throw colourUnsupported(
      `The photo’s colours are stored as ${space}, not as red, green and blue.`,
      'space',
      String(space),
    );
  }
  if (depth !== 'uchar' && depth !== 'ushort') {
    throw colourUnsupported('The photo’s samples are neither 8 nor 16 bit whole numbers.', 'depth');
  }
}

/** AVIF of 10 or 12 bits comes shifted up to 16: its white is 1023·64 or 4095·16. */
function whiteCodeOf({ bitsPerSample = 8 }: Metadata): number {
  return bitsPerSample > 8 ? (2 ** bitsPerSample - 1) * 2 ** (16 - bitsPerSample) : 255;
}

/**
 * Pixels, or a refusal where the picture data is damaged. Files with harmless faults (odd markers that some phones
 * write, unknown tags, a profile with a flaw) are read; a JPEG carries no checksum, so not all damage can be seen.
 */
async function pixels(bytes: Uint8Array, steps: (image: Sharp) => Sharp) {
  const read = async (failOn: 'warning' | 'error') => {
    const warnings: string[] = [];
    const image = sharp(bytes, { failOn, ignoreIcc: true, limitInputPixels: 100_000_000 });
    image.on('warning', (warning) => warnings.push(warning));
    const result = await steps(image).toBuffer({ resolveWithObject: true });
    // Damage in the last rows comes as a warning only, after the last check that could have failed.
    const damage = warnings.find((warning) => PIXEL_DAMAGE.test(warning));
    if (damage !== undefined) throw damaged(damage);
    return result;
  };
  try {
    return await read('warning');
  } catch (warning) {
    if (warning instanceof AnalysisError) throw warning;
    if (PIXEL_DAMAGE.test(String(warning))) throw damaged(warning);
    return await read('error').catch((cause) => {
      throw cause instanceof AnalysisError ? cause : damaged(cause);
    });
  }
}
