import { crc32, deflateSync } from 'node:zlib';
import sharp from 'sharp';

export type Codes = readonly [red: number, green: number, blue: number];

/** A lossless PNG of flat stripes, 64 px wide and 16 px high each at the least, top to bottom; with a profile or without. */
export async function stripesPng(
  stripes: readonly Codes[],
  icc?: Uint8Array,
  bits: 8 | 16 = 8,
): Promise<Buffer> {
  const stripePx = Math.max(16, Math.ceil(64 / stripes.length));
  const flat = stripes.flatMap((codes) => Array.from({ length: 64 * stripePx }, () => codes).flat());
  const png = await rawPng(bits === 8 ? Uint8Array.from(flat) : Uint16Array.from(flat), 64);
  return icc === undefined ? png : pngWithIcc(png, icc);
}

/** A lossless PNG of R G B samples, 8 or 16 bit as they are, without a profile. */
export function rawPng(samples: Uint8Array | Uint16Array, widthPx: number): Promise<Buffer> {
  const raw = { width: widthPx, height: samples.length / 3 / widthPx, channels: 3 } as const;
  return sharp(samples, { raw })
    .toColourspace(samples instanceof Uint16Array ? 'rgb16' : 'srgb')
    .png()
    .toBuffer();
}

/** The same PNG with an iCCP chunk after its header (PNG specification, 11.3.3.3): codes untouched. */
export function pngWithIcc(png: Buffer, icc: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from('iCCPtest\0\0', 'latin1'), deflateSync(icc)]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(body.length - 4);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([png.subarray(0, 33), length, body, check, png.subarray(33)]);
}

/** The same JPEG with an APP2 segment behind its start (ICC.1:2022 annex B.4): codes untouched. */
export function jpegWithIcc(jpeg: Buffer, icc: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from('ICC_PROFILE\0\x01\x01', 'latin1'), icc]);
  const marker = Buffer.from([0xff, 0xe2, 0, 0]);
  marker.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), marker, body, jpeg.subarray(2)]);
}

/** Middle of stripe `i` in an upright photo of `count` stripes: its pixel number. */
export function stripePixel(
  photo: { readonly widthPx: number; readonly heightPx: number },
  i: number,
  count: number,
): number {
  const row = Math.floor(((i + 0.5) * photo.heightPx) / count);
  return row * photo.widthPx + Math.floor(photo.widthPx / 2);
}

/** The same picture in another format, its code values and its profile as they are; lossless where the format can. */
export function rewritten(png: Buffer, format: 'jpeg' | 'png' | 'webp' | 'tiff' | 'avif'): Promise<Buffer> {
  const bits = png[24];
  const image = sharp(png, { ignoreIcc: true })
    .keepIccProfile()
    .toColourspace(bits === 16 ? 'rgb16' : 'srgb');
  switch (format) {
    case 'jpeg':
      return image.jpeg({ quality: 100, chromaSubsampling: '4:4:4' }).toBuffer();
    case 'png':
      return image.png().toBuffer();
    case 'webp':
      return image.webp({ lossless: true }).toBuffer();
    case 'tiff':
      return image.tiff({ compression: 'lzw' }).toBuffer();
    case 'avif':
      return image.avif({ quality: 100, chromaSubsampling: '4:4:4' }).toBuffer();
  }
}
