import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import type { Photo } from './photo.ts';

const REMEDY = 'Save or export the photo as JPEG, PNG, WebP, TIFF, AVIF or HEIC and try again.';

/** How files begin that people try by mistake, and what to call them. */
const others: readonly (readonly [begins: string, what: string])[] = [
  ['GIF8', 'a GIF picture, which holds too few colours to measure'],
  ['%PDF', 'a PDF document'],
  ['<', 'a drawing or a web page'],
  ['\xEF\xBB\xBF<', 'a drawing or a web page'],
  ['BM', 'a BMP picture'],
  ['\xFF\x0A', 'a JPEG XL picture'],
  ['\0\0\0\x0CJXL ', 'a JPEG XL picture'],
  ['\xFF\x4F\xFF\x51', 'a JPEG 2000 picture'],
  ['\0\0\0\x0CjP ', 'a JPEG 2000 picture'],
  ['FUJIFILMCCD-RAW', 'a raw camera file'],
  ['IIRO', 'a raw camera file'],
  ['IIU\0', 'a raw camera file'],
  ['8BPS', 'a layered Photoshop document'],
  ['PK\x03\x04', 'a ZIP archive'],
];

const isoStills: Readonly<Record<string, 'avif' | 'heic'>> = {
  avif: 'avif',
  heic: 'heic',
  heix: 'heic',
  heim: 'heic',
  heis: 'heic',
};

/**
 * Which of the six photo formats is this file, judged by its first bytes alone? Nothing else is ever handed to a
 * decoder.
 *
 * Throws `photo-unreadable` for an empty file and `photo-format-unsupported` for everything that is not a still
 * JPEG, PNG, WebP, TIFF, AVIF or HEIC; the message says what the file is, where that can be told, and what to do.
 */
export function photoFormat(bytes: Uint8Array): Photo['format'] {
  if (bytes.length === 0) {
    throw new AnalysisError(
      'photo-unreadable',
      'The file is empty. Send the photo again from the phone or camera.',
      { phrase: phrase('file-empty', {}) },
    );
  }
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.length, 512)).toString('latin1');
  if (head.startsWith('\xFF\xD8\xFF')) return 'jpeg';
  if (head.startsWith('\x89PNG\r\n\x1A\n')) return 'png';
  if (head.startsWith('RIFF') && head.startsWith('WEBP', 8)) return 'webp';
  if (['II*\0', 'II+\0', 'MM\0*', 'MM\0+'].includes(head.slice(0, 4))) {
    if (isRawInTiff(bytes, head)) throw unsupported('a raw camera file');
    return 'tiff';
  }
  if (head.startsWith('ftyp', 4)) return isoFormat(bytes, head);
  const other = others.find(([begins]) => head.trimStart().startsWith(begins));
  throw unsupported(other === undefined ? 'not a photo that can be read' : other[1]);
}

/** Brands of ISO base media files: the major one, a version, then the compatible ones (ISO/IEC 14496-12, 23008-12). */
function isoFormat(bytes: Uint8Array, head: string): 'avif' | 'heic' {
  const boxLength = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  const brands = [head.slice(8, 12)];
  for (let at = 16; at + 4 <= Math.min(boxLength, head.length); at += 4) brands.push(head.slice(at, at + 4));
  for (const brand of brands) {
    const still = isoStills[brand];
    if (still !== undefined) return still;
  }
  if (brands.some((brand) => brand === 'avis' || brand === 'hevc' || brand === 'hevx')) throw animated();
  if (brands.some((brand) => brand === 'mif1' || brand === 'msf1')) return 'heic';
  throw unsupported(brands[0] === 'crx ' ? 'a raw camera file' : 'a video or another kind of recording');
}

/**
 * Raw camera files are often TIFF files whose first picture is only a thumbnail: they carry a DNG version, the
 * letters CR, or mark their first picture as reduced (TIFF 6.0, NewSubfileType bit 0).
 */
function isRawInTiff(bytes: Uint8Array, head: string): boolean {
  if (head.startsWith('CR', 8)) return true;
  if (bytes.length < 8 || head.slice(0, 4).includes('+')) return false;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const little = head.startsWith('II');
  const directory = view.getUint32(4, little);
  if (directory + 2 > bytes.length) return false;
  const entries = view.getUint16(directory, little);
  for (let i = 0; i < entries; i++) {
    const at = directory + 2 + 12 * i;
    if (at + 12 > bytes.length) return false;
    const tag = view.getUint16(at, little);
    if (tag === 0xc612 || (tag === 254 && (view.getUint32(at + 8, little) & 1) === 1)) return true;
  }
  return false;
}

/** The refusal of a file that is not a photo of the six formats. */
function unsupported(what: string): AnalysisError {
  return new AnalysisError('photo-format-unsupported', `This file is ${what}. ${REMEDY}`, {
    phrase: phrase('file-kind', { what }),
  });
}

/** The refusal `photo-format-unsupported` of a file that moves. */
export function animated(): AnalysisError {
  return new AnalysisError(
    'photo-format-unsupported',
    'This file holds a moving picture. Save a single frame as JPEG and try again.',
    { phrase: phrase('file-moving', {}) },
  );
}
