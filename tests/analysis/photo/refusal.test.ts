import { crc32 } from 'node:zlib';
import sharp, { type Create } from 'sharp';
import { describe, expect, it } from 'vitest';
import { AnalysisError, type AnalysisErrorCode } from '../../../analysis/errors.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { type Codes, jpegWithIcc, pngWithIcc, rewritten, stripesPng } from './files.ts';
import { gammaTag, iccProfile, xyzTag } from './iccBuilder.ts';
import { sameCodes } from './reading.ts';

const flat = (width = 64, height = 64, background = '#6080a0'): { create: Create } => ({
  create: { width, height, channels: 3, background },
});

const latin = (text: string) => Buffer.from(text, 'latin1');

/** A sentence for people that says what to do, and nothing of a library's own words. */
async function expectRefused(bytes: Uint8Array, code: AnalysisErrorCode, says: RegExp) {
  const error = await decodePhoto(bytes).then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(AnalysisError);
  expect((error as AnalysisError).code).toBe(code);
  const { message } = error as AnalysisError;
  expect(message).toMatch(says);
  expect(message).toMatch(/[Uu]se|[Ss]ave|[Ss]end|[Ee]xport|[Cc]opy|[Cc]rop/);
  expect(message).not.toMatch(/vips|sharp|libheif|lcms|buffer|undefined|Error/i);
}

/** Camera-like content, so that compressed data is spread over the file. */
async function busyPng(widthPx = 200): Promise<Buffer> {
  const stripes = Array.from({ length: 12 }, (_, i) => [20 * i, 255 - 20 * i, (90 * i) % 256] as Codes);
  const small = await stripesPng(stripes);
  return sharp(small).resize(widthPx, widthPx, { fit: 'fill', kernel: 'cubic' }).rotate(20).png().toBuffer();
}

describe('files that are no photo', () => {
  it('an empty file is unreadable', async () => {
    await expectRefused(new Uint8Array(0), 'photo-unreadable', /empty/);
  });

  it.each([
    ['GIF', latin('GIF89a\x40\0\x40\0\x80\0\0'), /GIF/],
    ['SVG', latin('<svg xmlns="http://www.w3.org/2000/svg" width="90" height="90"/>'), /drawing/],
    ['SVG after blanks', latin('\n  <?xml version="1.0"?><svg/>'), /drawing/],
    ['PDF', latin('%PDF-1.7\n%âãÏÓ\n'), /PDF/],
    ['BMP', latin('BM\x36\0\0\0\0\0'), /BMP/],
    ['ZIP', latin('PK\x03\x04\x14\0'), /ZIP/],
    ['JPEG XL', latin('\xFF\x0A\x7F\xF0'), /JPEG XL/],
    ['video', latin('\0\0\0\x18ftypmp42\0\0\0\0isommp42'), /video/],
    ['raw file in boxes', latin('\0\0\0\x18ftypcrx \0\0\0\x01crx isom'), /raw/],
    ['text', latin('not a photo at all'), /not a photo/],
  ] as const)('%s is refused before any decoder sees it', async (_, bytes, says) => {
    await expectRefused(bytes, 'photo-format-unsupported', says);
  });

  it('a raw camera file in a TIFF shell is refused, not read as its thumbnail', async () => {
    const tiff = await sharp(flat()).tiff({ compression: 'none' }).toBuffer();
    const directory = tiff.readUInt32LE(4);
    const dng = Buffer.from(tiff);
    dng.writeUInt16LE(0xc612, directory + 2 + 12 * (dng.readUInt16LE(directory) - 1));
    await expectRefused(dng, 'photo-format-unsupported', /raw/);
    await expect(decodePhoto(tiff)).resolves.toMatchObject({ format: 'tiff' });
  });

  it('a moving picture is refused', async () => {
    const frames = await Promise.all(
      ['#800', '#080', '#008'].map((colour) =>
        sharp(flat(64, 64, colour))
          .png()
          .toBuffer(),
      ),
    );
    const webp = await sharp(frames, { join: { animated: true } })
      .webp()
      .toBuffer();
    await expectRefused(webp, 'photo-format-unsupported', /moving/);
  });

  it('of a TIFF of two pages the first is read', async () => {
    const pages = await Promise.all(
      ['#800000', '#008000'].map((colour) =>
        sharp(flat(64, 64, colour))
          .png()
          .toBuffer(),
      ),
    );
    const photo = await decodePhoto(
      await sharp(pages, { join: { animated: true } })
        .tiff({ compression: 'lzw' })
        .toBuffer(),
    );
    expect([photo.widthPx, photo.heightPx]).toEqual([64, 64]);
    expect([...photo.codes.subarray(0, 3)]).toEqual([0x80, 0, 0]);
  });
});

describe('damaged files', () => {
  it.each(['jpeg', 'png', 'webp', 'tiff', 'avif'] as const)('a %s cut short is refused', async (format) => {
    const whole = await rewritten(await busyPng(), format);
    for (const share of [0.02, 0.5, 0.97]) {
      const bytes = whole.subarray(0, Math.max(20, Math.floor(share * whole.length)));
      await expectRefused(bytes, 'photo-damaged', /damaged or cut short/);
    }
  });

  it.each(['jpeg', 'png', 'webp', 'tiff', 'avif'] as const)(
    'a %s with something behind its end is read',
    async (format) => {
      const whole = await rewritten(await busyPng(), format);
      const photo = await decodePhoto(Buffer.concat([whole, Buffer.alloc(3000, 0x5a)]));
      expect(sameCodes(photo, await decodePhoto(whole))).toBe(true);
    },
  );

  it('a JPEG whose picture data is overwritten is refused', async () => {
    const whole = Buffer.from(await rewritten(await busyPng(400), 'jpeg'));
    whole.fill(0xff, whole.length >> 1, (whole.length >> 1) + 64);
    await expectRefused(whole, 'photo-damaged', /Copy it again/);
    const zeros = Buffer.from(await rewritten(await busyPng(400), 'jpeg'));
    zeros.fill(0, zeros.length >> 1, (zeros.length >> 1) + 2000);
    await expectRefused(zeros, 'photo-damaged', /Copy it again/);
  });

  // Some phones and editors pad a JPEG; libjpeg calls it "extraneous bytes before marker", which costs no pixel.
  it('a JPEG with stray bytes between two of its header segments is read', async () => {
    const whole = await rewritten(await busyPng(), 'jpeg');
    const afterFirst = 2 + 2 + whole.readUInt16BE(4);
    const padded = Buffer.concat([
      whole.subarray(0, afterFirst),
      Buffer.alloc(7, 0x11),
      whole.subarray(afterFirst),
    ]);
    expect(sameCodes(await decodePhoto(padded), await decodePhoto(whole))).toBe(true);
  });
});

describe('sizes', () => {
  it('63 px on one side is too small, 64 × 64 px is not', async () => {
    await expectRefused(
      await sharp(flat(63, 400)).png().toBuffer(),
      'photo-too-small',
      /63 × 400 px.*64 × 64/,
    );
    await expect(decodePhoto(await sharp(flat()).png().toBuffer())).resolves.toMatchObject({ widthPx: 64 });
  });

  it('101 megapixels are too many, told before they are decoded', async () => {
    const header = await sharp(flat()).png().toBuffer();
    const huge = Buffer.from(header);
    huge.writeUInt32BE(10_100, 16);
    huge.writeUInt32BE(10_000, 20);
    huge.writeUInt32BE(crc32(huge.subarray(12, 29)), 29);
    await expectRefused(huge, 'photo-too-large', /101 megapixels; up to 100/);
  });
});

describe('colours that are not light', () => {
  it('CMYK is refused with the remedy', async () => {
    const jpeg = await sharp(flat()).toColourspace('cmyk').jpeg().toBuffer();
    await expectRefused(jpeg, 'profile-unsupported', /CMYK.*RGB JPEG/);
    const tiff = await sharp(flat()).toColourspace('cmyk').tiff().toBuffer();
    await expectRefused(tiff, 'profile-unsupported', /CMYK.*RGB JPEG/);
  });

  it('a profile for inks in an RGB file is refused', async () => {
    const jpeg = jpegWithIcc(await sharp(flat()).jpeg().toBuffer(), iccProfile('CMYK', 'Inks', {}));
    await expectRefused(jpeg, 'profile-unsupported', /CMYK/);
  });

  it('a profile without curves or colorants, or with colorants in a line, is refused', async () => {
    const png = await stripesPng([[90, 90, 90]]);
    const colorants = {
      rXYZ: xyzTag([0.4, 0.2, 0]),
      gXYZ: xyzTag([0.4, 0.7, 0.1]),
      bXYZ: xyzTag([0.1, 0.1, 0.7]),
    };
    await expectRefused(
      pngWithIcc(png, iccProfile('RGB ', 'No curves', colorants)),
      'profile-unsupported',
      /incomplete/,
    );
    const curves = { rTRC: gammaTag(2), gTRC: gammaTag(2), bTRC: gammaTag(2) };
    await expectRefused(
      pngWithIcc(png, iccProfile('RGB ', 'No colorants', curves)),
      'profile-unsupported',
      /incomplete/,
    );
    const inLine = {
      rXYZ: xyzTag([0.3, 0.3, 0.3]),
      gXYZ: xyzTag([0.3, 0.3, 0.3]),
      bXYZ: xyzTag([0.3, 0.3, 0.3]),
    };
    const flatProfile = iccProfile('RGB ', 'In a line', { ...inLine, ...curves });
    await expectRefused(pngWithIcc(png, flatProfile), 'profile-unsupported', /damaged/);
  });
});
