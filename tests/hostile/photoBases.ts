import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { jpegWithIcc, pngWithIcc } from '../analysis/photo/files.ts';
import { cornerTableTag, gammaTag, iccProfile, parametricTag, xyzTag } from '../analysis/photo/iccBuilder.ts';

export interface Base {
  readonly name: string;
  readonly bytes: Buffer;
}

const WIDTH = 96;
const HEIGHT = 80;

/** A picture with something in every row, so that damage anywhere is damage to something. */
const samples = (channels: number): Uint8Array =>
  Uint8Array.from({ length: channels * WIDTH * HEIGHT }, (_, i) => (i * 7 + ((i * i) >> 5)) & 255);

const picture = (channels: 1 | 3 | 4) =>
  sharp(samples(channels), { raw: { width: WIDTH, height: HEIGHT, channels } });

const matrixIcc = iccProfile('RGB ', 'matrix', {
  rXYZ: xyzTag([0.4361, 0.2225, 0.0139]),
  gXYZ: xyzTag([0.3851, 0.7169, 0.0971]),
  bXYZ: xyzTag([0.1431, 0.0606, 0.7141]),
  rTRC: gammaTag(2.2),
  gTRC: parametricTag(3, [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045]),
  bTRC: gammaTag(1.8),
});
const tableIcc = iccProfile('RGB ', 'tables', {
  A2B0: cornerTableTag([0, 0.2, 1], ([r, g, b]) => [
    0.4361 * r + 0.38 * g + 0.14 * b,
    0.22 * r + 0.72 * g,
    0.7 * b,
  ]),
});
const file = (name: string): Buffer =>
  readFileSync(join(import.meta.dirname, '../analysis/photo/files', name));

/** Sound photos in every format and shape that is read, small enough for thousands of variations. */
export const photoBases = async (): Promise<readonly Base[]> => {
  const png = await picture(3).png().toBuffer();
  const jpeg = await picture(3).jpeg({ quality: 85 }).toBuffer();
  const oriented = picture(3).withMetadata({ orientation: 6, exif: { IFD0: { Copyright: 'none' } } });
  const made: readonly (readonly [string, Buffer | Promise<Buffer>])[] = [
    ['jpeg', jpeg],
    ['jpeg, progressive', picture(3).jpeg({ progressive: true }).toBuffer()],
    ['jpeg, grey', picture(1).jpeg().toBuffer()],
    ['jpeg, exif', oriented.jpeg().toBuffer()],
    ['jpeg, matrix profile', jpegWithIcc(jpeg, matrixIcc)],
    ['jpeg, table profile', jpegWithIcc(jpeg, tableIcc)],
    ['png', png],
    ['png, 16 bit', picture(3).toColourspace('rgb16').png().toBuffer()],
    ['png, alpha, interlaced', picture(4).png({ progressive: true }).toBuffer()],
    ['png, palette', picture(3).png({ palette: true, colours: 16 }).toBuffer()],
    ['png, matrix profile', pngWithIcc(png, matrixIcc)],
    ['png, table profile', pngWithIcc(png, tableIcc)],
    ['webp', picture(3).webp({ quality: 80 }).toBuffer()],
    ['webp, lossless', picture(4).webp({ lossless: true }).toBuffer()],
    ['tiff, lzw', picture(3).tiff({ compression: 'lzw' }).toBuffer()],
    [
      'tiff, tiles',
      picture(3).tiff({ compression: 'deflate', tile: true, tileWidth: 32, tileHeight: 32 }).toBuffer(),
    ],
    ['tiff, 16 bit', picture(3).toColourspace('rgb16').tiff({ compression: 'none' }).toBuffer()],
    ['tiff, jpeg inside', picture(3).tiff({ compression: 'jpeg' }).toBuffer()],
    ['avif', picture(3).avif({ quality: 60, effort: 0 }).toBuffer()],
    ['avif, code points', file('quarters-p3-nclx.avif')],
    ['heic', file('quarters-p3-nclx.heic')],
    ['heic, turned', file('quarters-p3-irot.heic')],
  ];
  return Promise.all(made.map(async ([name, bytes]) => ({ name, bytes: await bytes })));
};
