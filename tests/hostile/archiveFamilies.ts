import { createWriteStream, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import fc from 'fast-check';
import { fromBufferPromise } from 'yauzl';
import { readArchive } from '../../server/exchange/archiveRead.ts';
import { writeArchive } from '../../server/exchange/archiveWrite.ts';
import { openStore } from '../../server/store/openStore.ts';
import { fillBook } from '../server/exchange/sampleBook.ts';
import { zipOf } from '../server/exchange/zipOf.ts';
import { damaged, damages } from './damage.ts';
import { drawn, type Family } from './family.ts';
import { madeWrong, wrongs } from './wrongJson.ts';

const SYMLINK = 0o120777;
const FOLDER = 0o040755;

/** Files that belong in no archive of a book: ways out of the folder, links, bombs. */
const foreign = fc.record({
  name: fc.constantFrom(
    '../../etc/cron.d/x',
    '/etc/passwd',
    'photos/../../x',
    'C:/x.json',
    'photos\\..\\x',
    'book.json',
    'BOOK.JSON',
    'readings/x.json',
    `photos/${'a'.repeat(64)}`,
    `${'d/'.repeat(300)}x`,
    'ä\u202E.json',
  ),
  mode: fc.constantFrom(0o100644, SYMLINK, FOLDER, 0o010644, 0o104755),
  content: fc.constantFrom(
    Buffer.from('/etc/passwd'),
    Buffer.alloc(0),
    Buffer.alloc(30_000_000),
    Buffer.from('{}'),
  ),
});

const filesOf = async (zipped: Buffer): Promise<ReadonlyMap<string, Buffer>> => {
  const files = new Map<string, Buffer>();
  for await (const entry of (await fromBufferPromise(zipped, { lazyEntries: true })).eachEntry()) {
    const zip = await fromBufferPromise(zipped, { lazyEntries: true });
    const parts: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) parts.push(chunk as Buffer);
    files.set(entry.fileName, Buffer.concat(parts));
  }
  return files;
};

const archives: Family = {
  name: 'archives of a book',
  count: 1500,
  open: async () => {
    const folder = mkdtempSync(join(tmpdir(), 'tonestep-hostile-'));
    process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
    const shop = await openStore({ folder: join(folder, 'shop') });
    await fillBook(shop);
    const { bytes, made } = writeArchive(shop);
    const path = join(folder, 'archive.zip');
    await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
    await shop.close();
    const good = readFileSync(path);
    const files = await filesOf(good);
    const jsonNames = [...files.keys()].filter((name) => name.endsWith('.json'));
    const goal = await openStore({ folder: join(folder, 'goal') });

    return async (i) => {
      const seed = 1_600_000 + i;
      if (i % 3 === 0) writeFileSync(path, damaged(good, drawn(damages, seed)));
      else if (i % 3 === 1) {
        const name = jsonNames[i % jsonNames.length];
        const wrong = madeWrong(JSON.parse(String(files.get(name))), drawn(wrongs, seed));
        await zipOf(
          path,
          [...files].map(([n, b]) => [n, n === name ? Buffer.from(JSON.stringify(wrong)) : b]),
        );
      } else {
        const { name, mode, content } = drawn(foreign, seed);
        // The packer itself refuses such names, so they are written over one of the same length.
        const stand = 'z'.repeat(Buffer.byteLength(name));
        await zipOf(path, [...files, [stand, content, mode]]);
        const packed = readFileSync(path);
        for (let at = packed.indexOf(stand); at >= 0; at = packed.indexOf(stand, at + 1))
          packed.write(name, at);
        writeFileSync(path, packed);
      }
      await readArchive(goal, path);
      return 'brought in';
    };
  },
};

export const archiveFamilies: readonly Family[] = [archives];
