import { createWriteStream, readFileSync, writeFileSync } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { fromBufferPromise } from 'yauzl';
import type { BookFile } from '../../../server/contracts/archive.ts';
import type { ErrorCode } from '../../../server/contracts/errors.ts';
import { openArchive } from '../../../server/exchange/archiveFile.ts';
import { readArchive } from '../../../server/exchange/archiveRead.ts';
import { writeArchive } from '../../../server/exchange/archiveWrite.ts';
import { Refusal } from '../../../server/refusal.ts';
import type { Store } from '../../../server/store/openStore.ts';
import { sha256Of } from '../../../server/store/photoFolder.ts';
import { bookRoom, fillBook, idOf } from './sampleBook.ts';
import { zipOf } from './zipOf.ts';

const room = bookRoom();
let empty: Store;
let good: Buffer;
let files: ReadonlyMap<string, Buffer>;

beforeAll(async () => {
  const shop = await room.book('shop');
  await fillBook(shop);
  const { bytes, made } = writeArchive(shop);
  await Promise.all([made, pipeline(bytes, createWriteStream(room.path('good.zip')))]);
  good = readFileSync(room.path('good.zip'));
  const zip = await fromBufferPromise(good, { lazyEntries: true });
  const found = new Map<string, Buffer>();
  for await (const entry of zip.eachEntry()) {
    const parts: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) parts.push(chunk as Buffer);
    found.set(entry.fileName, Buffer.concat(parts));
  }
  files = found;
  empty = await room.book('empty');
});

const nothingKept = async () => {
  const tables = ['dyes', 'readings', 'photos', 'notes'] as const;
  for (const table of tables)
    expect(await empty.read((db) => db.selectFrom(table).selectAll().execute())).toEqual([]);
  expect(await empty.photos.list()).toEqual([]);
};

/** How the archive is refused; also that nothing of it was kept. */
const refusalOf = async (bytes: Uint8Array): Promise<{ code: ErrorCode; message: string }> => {
  const path = room.path('hostile.zip');
  writeFileSync(path, bytes);
  const error = await readArchive(empty, path).catch((e: unknown) => e);
  await nothingKept();
  if (!(error instanceof Refusal)) throw error instanceof Error ? error : new Error('it was taken');
  expect(error.message).toMatch(/Nothing was brought in\.$/);
  expect(error.message).not.toMatch(/\/tmp|node_modules|\.ts\b/);
  return { code: error.code, message: error.message };
};

type File = readonly [name: string, bytes: Uint8Array, mode?: number];

const packed = async (entries: readonly File[]): Promise<Buffer> => {
  await zipOf(room.path('packed.zip'), entries);
  return readFileSync(room.path('packed.zip'));
};
const withFile = (...more: readonly File[]) => packed([...files.entries(), ...more]);

/** The good archive with another book.json. */
// biome-ignore lint/suspicious/noExplicitAny: broken on purpose
const withBook = (change: (book: any) => void): Promise<Buffer> => {
  const book = JSON.parse(String(files.get('book.json')));
  change(book);
  return packed(
    [...files.entries()].map(([n, b]) => [n, n === 'book.json' ? Buffer.from(JSON.stringify(book)) : b]),
  );
};

/** The good archive with another reading, its fingerprint put right. */
// biome-ignore lint/suspicious/noExplicitAny: broken on purpose
const withReading = (change: (file: any) => unknown): Promise<Buffer> => {
  const name = `readings/${idOf(8)}.json`;
  const file = JSON.parse(String(files.get(name)));
  const text = Buffer.from(JSON.stringify(change(file) ?? file));
  const book = JSON.parse(String(files.get('book.json'))) as { readings: { id: string; body: string }[] };
  for (const reading of book.readings) if (reading.id === idOf(8)) reading.body = sha256Of(text);
  return packed(
    [...files.entries()].map(([n, b]) => [
      n,
      n === 'book.json' ? Buffer.from(JSON.stringify(book)) : n === name ? text : b,
    ]),
  );
};

/** Every place of a name in the archive, headers and table of contents, with another name of the same length. */
const renamedTo = (from: string, to: string): Buffer => {
  expect(to.length).toBe(from.length);
  const bytes = Buffer.from(good);
  for (let at = bytes.indexOf(from); at >= 0; at = bytes.indexOf(from, at + 1)) bytes.write(to, at, 'latin1');
  return bytes;
};

const SIGNATURE = 0x02014b50;
/** Offsets of the entries in the table of contents. */
const centralHeaders = (bytes: Buffer): number[] => {
  const found: number[] = [];
  for (let at = 0; at + 4 <= bytes.length; at++) if (bytes.readUInt32LE(at) === SIGNATURE) found.push(at);
  return found;
};
const centralOf = (bytes: Buffer, name: string): number => {
  const at = centralHeaders(bytes).find(
    (o) => bytes.toString('latin1', o + 46, o + 46 + name.length) === name,
  );
  if (at === undefined) throw new Error(`${name} is not in the archive`);
  return at;
};

describe('names in an archive', () => {
  const book = 'book.json';
  it.each([
    ['a path upwards', '../a.json'],
    ['a path from the root', '/etc/pass'],
    ['a drive', 'C:/a.json'],
    ['backslashes', '..\\a.json'],
    ['another file', 'evil.json'],
    ['upper case', 'BOOK.json'],
  ])('are not used as paths: %s is refused', async (_, name) => {
    expect((await refusalOf(renamedTo(book, name))).code).toBe('archive-invalid');
  });

  it.each(['photos/../../../outside', 'readings/x.json', `photos/${'0'.repeat(63)}G`, 'photos/', 'a/'])(
    'have to be those of an archive: %s is refused',
    async (name) => {
      const bytes = await withFile(['x'.repeat(name.length), Buffer.from('x')]);
      for (
        let at = bytes.indexOf('x'.repeat(name.length));
        at >= 0;
        at = bytes.indexOf('x'.repeat(name.length), at + 1)
      )
        bytes.write(name, at, 'latin1');
      expect((await refusalOf(bytes)).code).toBe('archive-invalid');
    },
  );

  it('come once: two files of one name are refused', async () => {
    const [photo] = [...files.keys()].filter((n) => n.startsWith('photos/'));
    const refusal = await refusalOf(await withFile([photo, files.get(photo) as Buffer]));
    expect(refusal).toMatchObject({
      code: 'archive-invalid',
      message: expect.stringContaining('two files of one name'),
    });
  });

  it('stand for files: a symbolic link is refused', async () => {
    const [name] = [...files.keys()].filter((n) => n.startsWith('photos/'));
    const bytes = await packed(
      [...files.entries()].map(([n, b]) => (n === name ? [n, Buffer.from('/etc/passwd'), 0o120777] : [n, b])),
    );
    expect(await refusalOf(bytes)).toMatchObject({
      code: 'archive-invalid',
      message: expect.stringContaining('link'),
    });
  });

  it('are all told by book.json: one more photo is refused', async () => {
    const more = Buffer.from('more');
    expect((await refusalOf(await withFile([`photos/${sha256Of(more)}`, more]))).code).toBe(
      'archive-invalid',
    );
  });

  it('are all there: a missing photo is refused as damage', async () => {
    const [name] = [...files.keys()].filter((n) => n.startsWith('photos/'));
    const bytes = await packed([...files.entries()].filter(([n]) => n !== name));
    expect((await refusalOf(bytes)).code).toBe('archive-damaged');
  });
});

describe('sizes in an archive', () => {
  const photo = `photos/${'a'.repeat(64)}`;

  it('are held against what a photo can have: 101 MB of zeros in 100 kB are refused by their declared size', async () => {
    const bytes = await packed([[photo, new Uint8Array(101_000_000)]]);
    expect(bytes.length).toBeLessThan(110_000);
    expect((await refusalOf(bytes)).code).toBe('archive-too-large');
  });

  it('are held against what shrinking can do: 90 MB of zeros are refused though a photo may have them', async () => {
    const refusal = await refusalOf(await packed([[photo, new Uint8Array(90_000_000)]]));
    expect(refusal).toMatchObject({
      code: 'archive-too-large',
      message: expect.stringContaining('200 times'),
    });
  });

  it('are held to while unpacking: a file that declares 10 bytes and unpacks to 50 MB is not unpacked to its end', async () => {
    const bytes = await packed([[photo, new Uint8Array(50_000_000)]]);
    bytes.writeUInt32LE(10, centralOf(bytes, photo) + 24);
    writeFileSync(room.path('liar.zip'), bytes);
    const file = await openArchive(room.path('liar.zip'));
    const before = process.memoryUsage().arrayBuffers;
    await expect(file.read(photo)).rejects.toMatchObject({ code: 'archive-damaged' });
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(5_000_000);
    file.close();
  });

  it('are held to when there is less than declared', async () => {
    const bytes = Buffer.from(good);
    const name = `readings/${idOf(8)}.json`;
    const at = centralOf(bytes, name) + 24;
    bytes.writeUInt32LE(bytes.readUInt32LE(at) + 7, at);
    expect((await refusalOf(bytes)).code).toBe('archive-damaged');
  });

  it('do not count the same bytes twice: overlapping files are refused', async () => {
    const names = [0, 1].map((i) => `photos/${String(i).repeat(64)}`);
    const bytes = await packed(names.map((name) => [name, Buffer.alloc(5000, name)]));
    const [first, second] = names.map((name) => centralOf(bytes, name));
    bytes.writeUInt32LE(bytes.readUInt32LE(first + 42) + 1, second + 42);
    expect(await refusalOf(bytes)).toMatchObject({
      code: 'archive-invalid',
      message: expect.stringContaining('same bytes'),
    });
  });

  it('of a reading end at 4 MB', async () => {
    const text = Buffer.from(JSON.stringify({ filler: Array.from({ length: 500_000 }, (_, i) => i * 7919) }));
    expect(text.length).toBeGreaterThan(4_000_000);
    const bytes = await withFile([`readings/${idOf(77)}.json`, text]);
    expect((await refusalOf(bytes)).code).toBe('archive-too-large');
  });

  it('of a deflated stream are real: 1000 : 1 is what Deflate can do at most (RFC 1951)', () => {
    const zeros = 10_000_000;
    expect(zeros / deflateRawSync(new Uint8Array(zeros), { level: 9 }).length).toBeLessThan(1032);
  });
});

describe('an archive that is damaged', () => {
  it.each([0, 1, 21, 100, 5000, 0.5, 0.9])('is refused when cut after %d', async (place) => {
    const length = place > 0 && place < 1 ? Math.floor(good.length * place) : place;
    expect((await refusalOf(good.subarray(0, length))).code).toBe('archive-damaged');
  });

  it('is another file altogether where it does not begin as a ZIP file does', async () => {
    const letter = Buffer.from('Dear printer, here is my book.');
    expect((await refusalOf(letter)).code).toBe('archive-invalid');
  });

  it('is refused when it lacks its last byte', async () => {
    expect((await refusalOf(good.subarray(0, good.length - 1))).code).toBe('archive-damaged');
  });

  it('is refused when a photo is not what its name says', async () => {
    const [name] = [...files.keys()].filter((n) => n.startsWith('photos/'));
    const other = Buffer.from(files.get(name) as Buffer);
    other[other.length >> 1] ^= 1;
    const bytes = await packed([...files.entries()].map(([n, b]) => [n, n === name ? other : b]));
    expect((await refusalOf(bytes)).code).toBe('archive-damaged');
  });

  it('is refused when a reading is not what book.json says', async () => {
    const name = `readings/${idOf(8)}.json`;
    const other = Buffer.from(String(files.get(name)).replace('"L":', '"L" :'));
    const bytes = await packed([...files.entries()].map(([n, b]) => [n, n === name ? other : b]));
    expect((await refusalOf(bytes)).code).toBe('archive-damaged');
  });

  it('never ends in anything but a refusal or a whole book, wherever a byte is changed', async () => {
    await fc.assert(
      fc.asyncProperty(fc.nat(good.length - 1), fc.integer({ min: 1, max: 255 }), async (at, flip) => {
        const bytes = Buffer.from(good);
        bytes[at] ^= flip;
        const path = room.path('flipped.zip');
        writeFileSync(path, bytes);
        const file = await openArchive(path).catch((e: unknown) => e);
        if (file instanceof Refusal) return;
        expect(file).not.toBeInstanceOf(Error);
        const opened = file as Awaited<ReturnType<typeof openArchive>>;
        try {
          for (const name of opened.names)
            await opened.read(name).catch((e: unknown) => expect(e).toBeInstanceOf(Refusal));
        } finally {
          opened.close();
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('a book.json', () => {
  it.each([
    ['of another format', (b) => (b.format = 'other'), 'archive-invalid'],
    ['of a later version', (b) => (b.version = 2), 'archive-invalid'],
    ['without a list', (b) => delete b.dyes, 'archive-invalid'],
    ['with two rows of one id', (b) => (b.cloths[0].id = b.dyes[0].id), 'archive-invalid'],
    ['with two dyes of one name', (b) => (b.dyes[1].name = ' Light-set  BLUE'), 'archive-invalid'],
    ['with a name of control characters', (b) => (b.dyes[0].name = 'blue\u001b[31m'), 'archive-invalid'],
    ['with a reading of an unknown dye', (b) => (b.readings[0].dyeId = idOf(999)), 'archive-invalid'],
    ['with a reading of an unknown photo', (b) => (b.readings[0].photo = 'f'.repeat(64)), 'archive-invalid'],
    ['with a note on nothing', (b) => (b.notes[0].on.id = idOf(999)), 'archive-invalid'],
    ['with a day that is none', (b) => (b.prints[0].exposedAt = '2026-02-31'), 'archive-invalid'],
    ['with an id that is a path', (b) => (b.readings[0].id = '../../x'), 'archive-invalid'],
    ['with a photo of another size', (b) => (b.photos[0].bytes += 1), 'archive-damaged'],
    ['with a photo of another format', (b) => (b.photos[0].format = 'png'), 'archive-invalid'],
    [
      'whose readings stand in for each other in a circle',
      (b) => {
        const [one, other] = b.readings;
        [one.supersedesId, other.supersedesId] = [other.id, one.id];
      },
      'archive-invalid',
    ],
    // biome-ignore lint/suspicious/noExplicitAny: broken on purpose
  ] as readonly [string, (book: any) => unknown, ErrorCode][])('%s is refused', async (_, change, code) => {
    const refusal = await refusalOf(await withBook(change as (book: BookFile) => void));
    expect(refusal.code).toBe(code);
  });

  it('that nests 10,000 levels deep is refused before it is built', async () => {
    const deep = Buffer.from(`${'['.repeat(10_000)}${']'.repeat(10_000)}`);
    expect(await refusalOf(await packed([['book.json', deep]]))).toMatchObject({
      code: 'archive-invalid',
      message: expect.stringContaining('64 levels'),
    });
  });

  it.each(['', '{', 'null', '[]', '"x"', '\ufffd', '{"format":"tonestep-book"}'])(
    '%j is refused',
    async (text) => {
      const { code } = await refusalOf(await packed([['book.json', Buffer.from(text)]]));
      expect(['archive-invalid', 'archive-damaged']).toContain(code);
    },
  );
});

describe('a reading in an archive', () => {
  it.each([
    ['without a curve', (f) => delete f.reading.curve],
    ['whose curve would keep the fitter busy', (f) => (f.reading.curve.curve.longestSeconds = 1e300)],
    ['whose covariance is of another size', (f) => f.reading.curve.curve.covarianceL.pop()],
    ['with a step of no uncertainty', (f) => (f.reading.steps[1].uL = 0)],
    ['with a target that is none', (f) => (f.reading.advice.target = { kind: 'L', L: 400 })],
    ['without settings', (f) => delete f.settings],
    [
      'that nests too deep',
      (f) => {
        let deep: unknown = 1;
        for (let i = 0; i < 100; i++) deep = [deep];
        f.reading.extra = deep;
      },
    ],
    // biome-ignore lint/suspicious/noExplicitAny: broken on purpose
  ] as readonly [string, (file: any) => void][])('%s is refused', async (_, change) => {
    expect((await refusalOf(await withReading((file) => void change(file)))).code).toBe('archive-invalid');
  });

  it('of another method version, with more in it than is known here, is taken as it is', async () => {
    const other = await room.book('later method');
    const path = room.path('later.zip');
    writeFileSync(
      path,
      await withReading((file) => {
        file.reading.methodVersion = '7';
        file.reading.later = { things: [1, 2, 3] };
      }),
    );
    await readArchive(other, path);
    const { readingJson } = await other.read((db) =>
      db.selectFrom('readingBodies').selectAll().where('readingId', '=', idOf(8)).executeTakeFirstOrThrow(),
    );
    expect(JSON.parse(readingJson)).toMatchObject({ methodVersion: '7', later: { things: [1, 2, 3] } });
  });
});

describe('all or nothing', () => {
  it('holds when the last row fails within the transaction', async () => {
    const store = await room.book('half');
    const failing: Store = {
      ...store,
      write: (job) =>
        store.write(async (db) => {
          await job(db);
          throw Object.assign(new Error('disk is full'), { code: 'SQLITE_FULL' });
        }),
    };
    await expect(readArchive(failing, room.path('good.zip'))).rejects.toMatchObject({ code: 'disk-full' });
    expect(await store.read((db) => db.selectFrom('dyes').selectAll().execute())).toEqual([]);
    expect(await store.read((db) => db.selectFrom('readings').selectAll().execute())).toEqual([]);
    expect((await readArchive(store, room.path('good.zip'))).added.readings).toBe(3);
  });

  it('says where there is no such file as the system does', async () => {
    await expect(readArchive(empty, room.path('nowhere.zip'))).rejects.toMatchObject({ code: 'ENOENT' });
  });
});
