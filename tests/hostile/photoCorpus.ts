import { crc32, deflateSync, gzipSync } from 'node:zlib';
import sharp from 'sharp';
import { jpegWithIcc, pngWithIcc } from '../analysis/photo/files.ts';
import { iccProfile } from '../analysis/photo/iccBuilder.ts';
import { type Base, photoBases } from './photoBases.ts';

const latin = (text: string): Buffer => Buffer.from(text, 'latin1');
const uint32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};

/** A PNG chunk. Source: PNG specification, 5.3. */
const chunk = (type: string, data: Buffer): Buffer => {
  const body = Buffer.concat([latin(type), data]);
  return Buffer.concat([uint32(data.length), body, uint32(crc32(body))]);
};
const pngOf = (widthPx: number, heightPx: number, bits: number, colour: number, ...more: Buffer[]): Buffer =>
  Buffer.concat([
    latin('\x89PNG\r\n\x1A\n'),
    chunk('IHDR', Buffer.concat([uint32(widthPx), uint32(heightPx), Buffer.from([bits, colour, 0, 0, 0])])),
    ...more,
    chunk('IEND', Buffer.alloc(0)),
  ]);
const zeros = (bytes: number): Buffer => deflateSync(Buffer.alloc(bytes), { level: 9 });

/** A little-endian TIFF of one directory. Source: TIFF 6.0, section 2. */
const tiffOf = (
  entries: readonly (readonly [tag: number, type: number, count: number, value: number])[],
  next = 0,
) => {
  const bytes = Buffer.alloc(8 + 2 + 12 * entries.length + 4);
  bytes.write('II*\0', 'latin1');
  bytes.writeUInt32LE(8, 4);
  bytes.writeUInt16LE(entries.length, 8);
  entries.forEach(([tag, type, count, value], i) => {
    bytes.writeUInt16LE(tag, 10 + 12 * i);
    bytes.writeUInt16LE(type, 12 + 12 * i);
    bytes.writeUInt32LE(count, 14 + 12 * i);
    bytes.writeUInt32LE(value, 18 + 12 * i);
  });
  bytes.writeUInt32LE(next, 10 + 12 * entries.length);
  return bytes;
};
const tiffSized = (widthPx: number, heightPx: number) =>
  tiffOf([
    [256, 4, 1, widthPx],
    [257, 4, 1, heightPx],
    [258, 3, 1, 8],
    [259, 3, 1, 1],
    [262, 3, 1, 1],
    [273, 4, 1, 8],
    [277, 3, 1, 1],
    [278, 4, 1, heightPx],
    [279, 4, 1, 0xffffffff],
  ]);

/** The JPEG with an EXIF segment of these TIFF bytes. Source: EXIF 2.3, 4.5.4. */
const withExif = (jpeg: Buffer, tiff: Buffer): Buffer => {
  const body = Buffer.concat([latin('Exif\0\0'), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
};

/** The JPEG whose frame header says another size. Source: ITU-T T.81, B.2.2. */
const resized = (jpeg: Buffer, widthPx: number, heightPx: number): Buffer => {
  const harmed = Buffer.from(jpeg);
  const frame = harmed.indexOf(Buffer.from([0xff, 0xc0]));
  harmed.writeUInt16BE(heightPx, frame + 5);
  harmed.writeUInt16BE(widthPx, frame + 7);
  return harmed;
};

/** A HEIF whose item says another size. Source: ISO/IEC 23008-12, 6.5.3 ("ispe"). */
const ispeOf = (heif: Buffer, widthPx: number, heightPx: number): Buffer => {
  const harmed = Buffer.from(heif);
  for (let at = harmed.indexOf('ispe'); at >= 0; at = harmed.indexOf('ispe', at + 4)) {
    harmed.writeUInt32BE(widthPx, at + 8);
    harmed.writeUInt32BE(heightPx, at + 12);
  }
  return harmed;
};

const flat = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#808080' } });

const makeCorpus = async (): Promise<readonly Base[]> => {
  const bases = await photoBases();
  const base = (name: string): Buffer => {
    const found = bases.find((one) => one.name === name);
    if (!found) throw new Error(`there is no base "${name}"`);
    return found.bytes;
  };
  const jpeg = base('jpeg');
  const png = base('png');
  const heic = base('heic');
  const svg = (inside: string): Buffer =>
    latin(
      `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="90" height="90">${inside}</svg>`,
    );
  const lol = `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${'bcdefghij'
    .split('')
    .map((c, i) => `<!ENTITY ${c} "${`&${'abcdefghij'[i]};`.repeat(10)}">`)
    .join('')}]>`;
  const made: readonly (readonly [string, Buffer | Promise<Buffer>])[] = [
    ['nothing at all', Buffer.alloc(0)],
    ...[1, 2, 3, 4, 7, 8, 11, 12, 16].map(
      (n) => [`the first ${n} bytes of a jpeg`, jpeg.subarray(0, n)] as const,
    ),
    ...bases.flatMap(({ name, bytes }) => [
      [`${name}: its first 16 bytes`, bytes.subarray(0, 16)] as const,
      [`${name}: all but its last byte`, bytes.subarray(0, -1)] as const,
      [`${name}: half`, bytes.subarray(0, bytes.length >> 1)] as const,
      [`${name}: twice`, Buffer.concat([bytes, bytes])] as const,
      [`${name}: behind a blank`, Buffer.concat([latin(' '), bytes])] as const,
      [`${name}: compressed`, gzipSync(bytes)] as const,
      [`${name}: as text in base64`, latin(bytes.toString('base64'))] as const,
      [`${name}: as UTF-8`, Buffer.from(bytes.toString('latin1'), 'utf8')] as const,
    ]),
    ['1 × 1 px png', flat(1, 1).png().toBuffer()],
    ['1 × 1 px jpeg', flat(1, 1).jpeg().toBuffer()],
    ['30000 × 10 px png', flat(30_000, 10).png().toBuffer()],
    ['10 × 30000 px jpeg', flat(10, 30_000).jpeg().toBuffer()],
    ['30000 × 64 px png', flat(30_000, 64).png().toBuffer()],
    ['63 × 64 px webp', flat(63, 64).webp().toBuffer()],
    ['16383 × 64 px webp', flat(16_383, 64).webp().toBuffer()],
    ['png of 0 × 0 px', pngOf(0, 0, 8, 2, chunk('IDAT', zeros(1)))],
    ['png of 2147483647² px', pngOf(0x7fffffff, 0x7fffffff, 8, 2, chunk('IDAT', zeros(1)))],
    ['png bomb of 30000 × 30000 px, 16 bit', pngOf(30_000, 30_000, 16, 2, chunk('IDAT', zeros(1_000_000)))],
    [
      'png bomb of 10000 × 10000 px, all zeros',
      pngOf(10_000, 10_000, 8, 0, chunk('IDAT', zeros(100_010_000))),
    ],
    ['png with a tenth of its rows', pngOf(9000, 9000, 8, 2, chunk('IDAT', zeros(2_700_000)))],
    ['png with 300 MB behind its rows', pngOf(100, 100, 8, 2, chunk('IDAT', zeros(300_000_000)))],
    [
      'png with a text bomb of 300 MB',
      Buffer.concat([
        png.subarray(0, 33),
        chunk('zTXt', Buffer.concat([latin('Comment\0\0'), zeros(300_000_000)])),
        png.subarray(33),
      ]),
    ],
    [
      'png with an international text bomb of 300 MB',
      Buffer.concat([
        png.subarray(0, 33),
        chunk('iTXt', Buffer.concat([latin('Comment\0\x01\0\0\0'), zeros(300_000_000)])),
        png.subarray(33),
      ]),
    ],
    ['png with a profile bomb of 300 MB', pngWithIcc(png, Buffer.alloc(300_000_000))],
    [
      'png with 30000 empty data chunks',
      Buffer.concat([
        png.subarray(0, 33),
        ...Array.from({ length: 30_000 }, () => chunk('IDAT', Buffer.alloc(0))),
        png.subarray(33),
      ]),
    ],
    [
      'png with 20000 text chunks',
      Buffer.concat([
        png.subarray(0, 33),
        ...Array.from({ length: 20_000 }, (_, i) => chunk('tEXt', latin(`k${i}\0v`))),
        png.subarray(33),
      ]),
    ],
    ['png with two headers', Buffer.concat([png.subarray(0, 33), png.subarray(8)])],
    [
      'png that moves',
      Buffer.concat([
        png.subarray(0, 33),
        chunk('acTL', Buffer.concat([uint32(0xffffffff), uint32(0)])),
        png.subarray(33),
      ]),
    ],
    ['png of palette without one', pngOf(80, 80, 8, 3, chunk('IDAT', zeros(6480)))],
    ['jpeg that says 65535 × 65535 px', resized(jpeg, 65_535, 65_535)],
    ['jpeg that says 10000 × 9999 px', resized(jpeg, 10_000, 9999)],
    ['jpeg that says 0 × 0 px', resized(jpeg, 0, 0)],
    [
      'jpeg of 65000 restart marks',
      Buffer.concat([
        jpeg.subarray(0, -2),
        Buffer.alloc(130_000, Buffer.from([0xff, 0xd0])),
        jpeg.subarray(-2),
      ]),
    ],
    [
      'jpeg of 20000 comments',
      Buffer.concat([
        jpeg.subarray(0, 2),
        Buffer.alloc(80_000, Buffer.from([0xff, 0xfe, 0, 2])),
        jpeg.subarray(2),
      ]),
    ],
    ['jpeg of inks (CMYK)', flat(90, 90).toColourspace('cmyk').jpeg().toBuffer()],
    ['tiff of inks (CMYK)', flat(90, 90).toColourspace('cmyk').tiff().toBuffer()],
    [
      'jpeg with EXIF that points to itself',
      withExif(
        jpeg,
        tiffOf(
          [
            [0x8769, 4, 1, 8],
            [0x112, 3, 1, 6],
          ],
          8,
        ),
      ),
    ],
    [
      'jpeg with EXIF of 4 billion values',
      withExif(
        jpeg,
        tiffOf([
          [0x10e, 2, 0xffffffff, 26],
          [0x112, 3, 0xffffffff, 6],
        ]),
      ),
    ],
    ['jpeg with EXIF of orientation 255', withExif(jpeg, tiffOf([[0x112, 3, 1, 255]]))],
    [
      'jpeg with EXIF of 5000 entries',
      withExif(jpeg, tiffOf(Array.from({ length: 5000 }, (_, i) => [i, 3, 1, 1] as const))),
    ],
    ['jpeg with an empty profile', jpegWithIcc(jpeg, Buffer.alloc(0))],
    ['jpeg with a profile of zeros', jpegWithIcc(jpeg, Buffer.alloc(60_000))],
    ['jpeg with a profile of inks', jpegWithIcc(jpeg, iccProfile('CMYK', 'inks', {}))],
    ['jpeg with a profile without tags', jpegWithIcc(jpeg, iccProfile('RGB ', 'none', {}))],
    ['png with a profile of 8 MB', pngWithIcc(png, Buffer.alloc(8_000_000, 'acsp'))],
    ['tiff of 60000 × 60000 px', tiffSized(60_000, 60_000)],
    ['tiff of 9000 × 9000 px without data', tiffSized(9000, 9000)],
    [
      'tiff whose directories run in a circle',
      tiffOf(
        [
          [256, 4, 1, 90],
          [257, 4, 1, 90],
        ],
        8,
      ),
    ],
    [
      'tiff of 4 billion strips',
      tiffOf([
        [256, 4, 1, 90],
        [257, 4, 1, 90],
        [273, 4, 0xffffffff, 8],
        [278, 4, 1, 1],
        [279, 4, 0xffffffff, 8],
      ]),
    ],
    ['heic that says 30000 × 30000 px', ispeOf(heic, 30_000, 30_000)],
    ['heic that says 0 × 0 px', ispeOf(heic, 0, 0)],
    ['heic that says 65 × 65 px', ispeOf(heic, 65, 65)],
    ['avif that says 30000 × 30000 px', ispeOf(base('avif'), 30_000, 30_000)],
    ['avif that says 9000 × 9000 px', ispeOf(base('avif'), 9000, 9000)],
    ['boxes of endless length', Buffer.concat([uint32(0), latin('ftypheic'), Buffer.alloc(64, 0xff)])],
    [
      'boxes that nest 5000 deep',
      Buffer.concat([
        uint32(24),
        latin('ftypheic\0\0\0\0mif1heic'),
        ...Array.from({ length: 5000 }, (_, i) => Buffer.concat([uint32(40_000 - 8 * i), latin('meta')])),
      ]),
    ],
    [
      'svg with a picture from elsewhere',
      svg('<image xlink:href="http://127.0.0.1:1/x.png" width="90" height="90"/>'),
    ],
    [
      'svg with a file of the machine',
      svg('<image xlink:href="file:///etc/passwd" width="90" height="90"/><text>&#x26;</text>'),
    ],
    ['svg with a script', svg('<script>fetch("http://127.0.0.1:1")</script>')],
    [
      'svg with an entity from a file',
      latin(
        '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>',
      ),
    ],
    ['svg whose entities multiply', Buffer.concat([latin(lol), svg('<text>&j;</text>')])],
    ['svg in a png’s clothes', Buffer.concat([latin('\x89PNG\r\n\x1A\n'), svg('')])],
    ['svg after a byte order mark', Buffer.concat([latin('\xEF\xBB\xBF'), svg('')])],
    [
      'jpeg and web page in one',
      Buffer.concat([
        jpeg.subarray(0, 2),
        Buffer.from([0xff, 0xfe, 0, 40]),
        latin('<script>alert(document.cookie)</script>'.slice(0, 38)),
        jpeg.subarray(2),
      ]),
    ],
    [
      'jpeg and archive in one',
      Buffer.concat([
        jpeg,
        latin('PK\x03\x04'),
        Buffer.alloc(26),
        latin('../../etc/passwd'),
        latin('PK\x05\x06'),
        Buffer.alloc(18),
      ]),
    ],
    [
      'jpeg and document in one',
      Buffer.concat([jpeg, latin('%PDF-1.7\n1 0 obj<</JS(app.alert(1))>>endobj')]),
    ],
    ['gif and script in one', latin('GIF89a=1;/*\0\0*/alert(1);//')],
    [
      'gif that moves',
      sharp(Buffer.concat([Buffer.alloc(90 * 90 * 3, 10), Buffer.alloc(90 * 90 * 3, 200)]), {
        raw: { width: 90, height: 180, channels: 3, pageHeight: 90 },
      })
        .gif()
        .toBuffer(),
    ],
    [
      'webp that moves',
      sharp(Buffer.concat([Buffer.alloc(90 * 90 * 3, 10), Buffer.alloc(90 * 90 * 3, 200)]), {
        raw: { width: 90, height: 180, channels: 3, pageHeight: 90 },
      })
        .webp()
        .toBuffer(),
    ],
    ['a terminal’s escape signs', latin('\x1B]0;x\x07\x1B[2J'.repeat(100))],
    ['1 MB of zeros', Buffer.alloc(1_000_000)],
    ['1 MB of ones', Buffer.alloc(1_000_000, 0xff)],
    ['1 MB of jpeg starts', Buffer.alloc(1_000_000, Buffer.from([0xff, 0xd8, 0xff]))],
    ['a pnm picture', latin('P6\n90 90\n255\n'.padEnd(24_400, 'x'))],
    ['a picture in text', latin('%!PS-Adobe-3.0 EPSF-3.0\n(/etc/passwd) run')],
    [
      'a script of drawing commands',
      latin(
        "push graphic-context\nviewbox 0 0 64 64\nimage over 0,0 0,0 'https://127.0.0.1:1/x'\npop graphic-context",
      ),
    ],
  ];
  return Promise.all(made.map(async ([name, bytes]) => ({ name, bytes: await bytes })));
};

let corpus: Promise<readonly Base[]> | undefined;

/** What people with ill intent, broken cards and odd programs send as a photo; made once. */
export const photoCorpus = (): Promise<readonly Base[]> => {
  corpus ??= makeCorpus();
  return corpus;
};
