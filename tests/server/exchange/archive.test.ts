import { execFileSync, spawnSync } from 'node:child_process';
import { createWriteStream, readFileSync, rmSync } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { fromBufferPromise } from 'yauzl';
import { METHOD_VERSION } from '../../../analysis/methodVersion.ts';
import { bookFile, readingFile } from '../../../server/contracts/archive.ts';
import { readArchive } from '../../../server/exchange/archiveRead.ts';
import { archived } from '../../../server/exchange/archiveRows.ts';
import { type ArchiveMade, writeArchive } from '../../../server/exchange/archiveWrite.ts';
import type { Store } from '../../../server/store/openStore.ts';
import { sha256Of } from '../../../server/store/photoFolder.ts';
import { bookRoom, fillBook, hemp, idOf } from './sampleBook.ts';
import { zipOf } from './zipOf.ts';

const noPython = spawnSync('python3', ['--version']).error !== undefined;
const room = bookRoom();

const exported = async (store: Store, name: string): Promise<{ path: string; made: ArchiveMade }> => {
  const { bytes, made } = writeArchive(store);
  const path = room.path(name);
  const [result] = await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
  return { path, made: result };
};

const filesOf = async (path: string): Promise<ReadonlyMap<string, Buffer>> => {
  const zip = await fromBufferPromise(readFileSync(path), { lazyEntries: true });
  const files = new Map<string, Buffer>();
  for await (const entry of zip.eachEntry()) {
    const parts: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) parts.push(chunk as Buffer);
    files.set(entry.fileName, Buffer.concat(parts));
  }
  return files;
};

const rowsOf = (store: Store) =>
  store.read(async (db) => ({
    dyes: await db.selectFrom('dyes').selectAll().orderBy('id').execute(),
    lights: await db.selectFrom('lights').selectAll().orderBy('id').execute(),
    batches: await db.selectFrom('batches').selectAll().orderBy('id').execute(),
    cards: await db.selectFrom('cards').selectAll().orderBy('id').execute(),
    plans: await db.selectFrom('plans').selectAll().orderBy('id').execute(),
    photos: await db.selectFrom('photos').selectAll().orderBy('sha256').execute(),
    readings: await db.selectFrom('readings').selectAll().orderBy('id').execute(),
    bodies: await db.selectFrom('readingBodies').selectAll().orderBy('readingId').execute(),
    controls: await db.selectFrom('controls').selectAll().orderBy('id').execute(),
    prints: await db.selectFrom('prints').selectAll().orderBy('id').execute(),
    notes: await db.selectFrom('notes').selectAll().orderBy('id').execute(),
  }));

let store: Store;
let archive = '';
let made: ArchiveMade;
beforeAll(async () => {
  store = await room.book('shop');
  await fillBook(store);
  ({ path: archive, made } = await exported(store, 'shop.zip'));
});

describe('an archive of the book', () => {
  it('counts 3 readings and 2 photos, none lost', () => {
    expect(made).toEqual({ readings: 3, photos: 2, photosLost: 0 });
  });

  it('holds book.json, a file for each reading and the photos as they were taken', async () => {
    const files = await filesOf(archive);
    expect(files.size).toBe(1 + 3 + 2);
    const book = bookFile.parse(JSON.parse(String(files.get('book.json'))));
    const { photo } = book.readings.find(({ id }) => id === idOf(90)) ?? book.readings[0];
    expect(files.get(`photos/${photo}`)?.equals(hemp.photo)).toBe(true);
    for (const { id } of book.readings) {
      const { reading } = readingFile.parse(JSON.parse(String(files.get(`readings/${id}.json`))));
      expect(reading.methodVersion).toBe(METHOD_VERSION);
    }
  });

  it.skipIf(noPython)('is a zip that an independent program finds sound (skipped without python3)', () => {
    // CPython's zipfile module: -t reads every file and checks its CRC-32.
    const said = execFileSync('python3', ['-m', 'zipfile', '-t', archive], { encoding: 'utf8' });
    expect(said).toMatch(/done testing/i);
  });

  it('is byte for byte the same when made again, in any time zone', async () => {
    const zone = process.env.TZ;
    process.env.TZ = 'Pacific/Chatham';
    try {
      const again = await exported(store, 'again.zip');
      expect(readFileSync(again.path).equals(readFileSync(archive))).toBe(true);
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });

  it('leaves out no column that does not follow from the others', async () => {
    // Columns that the archive names otherwise, or that are worked out again from the reading or the name.
    const otherwise = new Set([
      'nameKey',
      'remarkKey',
      'cardKey',
      'fitted',
      'status',
      'seconds',
      'low',
      'high',
      'roundedSeconds',
      'baseL',
      'deepestL',
      'shortestSeconds',
      'longestSeconds',
      'relative',
      'marksConfidence',
      'warnings',
      'methodVersion',
      'shiftLow',
      'shiftHigh',
    ]);
    const book = JSON.parse(String((await filesOf(archive)).get('book.json')));
    const tables = await store.read((db) => db.introspection.getTables());
    for (const { name, columns } of tables) {
      if (['readingBodies', 'curveDraws', 'arrivals'].includes(name)) continue;
      expect(Object.keys(archived)).toContain(name);
      const kept = Object.keys(book[name][0]);
      const missing = columns
        .map((column) => column.name)
        .filter((c) => !otherwise.has(c) && !kept.includes(c) && !kept.includes(c.replace(/Json$/, '')))
        .filter((c) => !(name === 'notes' && /^on(Kind|Id)$/.test(c)) && c !== 'targetJson');
      expect({ name, missing }).toEqual({ name, missing: [] });
    }
  });
});

describe('bringing an archive in', () => {
  it('into an empty folder gives the same book: rows, photos, and the same archive byte for byte', async () => {
    const other = await room.book('other');
    const answer = await readArchive(other, archive);
    expect(answer.added).toEqual({
      dyes: 2,
      cloths: 1,
      lights: 1,
      batches: 1,
      cards: 1,
      plans: 1,
      photos: 2,
      readings: 3,
      controls: 1,
      prints: 1,
      notes: 1,
    });
    expect(await rowsOf(other)).toEqual(await rowsOf(store));
    const { path } = await exported(other, 'other.zip');
    expect(readFileSync(path).equals(readFileSync(archive))).toBe(true);
  });

  it('twice changes nothing the second time', async () => {
    const other = await room.book('twice');
    await readArchive(other, archive);
    const before = await rowsOf(other);
    const answer = await readArchive(other, archive);
    expect(answer.added).toEqual({});
    expect(answer.known).toBe(15);
    expect(answer.sentence).toBe('Nothing new was in the archive. 15 rows were in the book already.');
    expect(await rowsOf(other)).toEqual(before);
  });

  it('knows what was written in two books under different ids by what it says', async () => {
    const other = await room.book('under other ids');
    await readArchive(other, archive);
    // The same book, every id another: as two people would have typed it in.
    const files = await filesOf(archive);
    const text = (name: string) =>
      String(files.get(name)).replaceAll('00000000-0000-4000-8000-', '11111111-0000-4000-8000-');
    const path = room.path('renumbered.zip');
    await zipOf(
      path,
      [...files.entries()].map(([name, bytes]) => [
        name.replace('00000000-0000', '11111111-0000'),
        name.endsWith('.json') ? Buffer.from(text(name)) : bytes,
      ]),
    );
    const answer = await readArchive(other, path);
    expect(answer.added).toEqual({});
    expect(answer.known).toBe(15);
  });

  it('keeps two lights of one name apart where their glass differs', async () => {
    const other = await room.book('other glass');
    await other.write((db) =>
      db
        .insertInto('lights')
        .values({
          id: idOf(500),
          createdAt: '2026-01-01T00:00:00.000Z',
          changedAt: '2026-01-01T00:00:00.000Z',
          putAwayAt: null,
          remark: '',
          name: 'Blacklight tubes, 30 cm',
          nameKey: 'blacklight tubes, 30 cm',
          kind: 'lamps',
          distanceCm: 30,
          glass: 'none',
          lampHours: null,
        })
        .execute(),
    );
    const answer = await readArchive(other, archive);
    expect(answer.renamed).toEqual([{ from: 'blacklight tubes, 30 cm', to: 'blacklight tubes, 30 cm (2)' }]);
    expect(answer.sentence).toContain('is now "blacklight tubes, 30 cm (2)"');
    const { lights, readings } = await rowsOf(other);
    expect(lights.map((l) => [l.name, l.glass])).toEqual([
      ['blacklight tubes, 30 cm (2)', '4 mm float'],
      ['Blacklight tubes, 30 cm', 'none'],
    ]);
    expect(new Set(readings.map((r) => r.lightId))).toEqual(new Set([idOf(3)]));
  });

  it('takes the newer word about a thing, whichever book it comes from', async () => {
    const other = await room.book('newer');
    await readArchive(other, archive);
    await other.write((db) =>
      db
        .updateTable('dyes')
        .set({ remark: 'fourth vat', changedAt: '2026-06-01T00:00:00.000Z' })
        .where('id', '=', idOf(1))
        .execute(),
    );
    await other.write((db) =>
      db
        .updateTable('readings')
        .set({ putAwayAt: '2026-06-01T00:00:00.000Z', changedAt: '2026-06-01T00:00:00.000Z' })
        .where('id', '=', idOf(8))
        .execute(),
    );
    await readArchive(other, archive);
    expect((await rowsOf(other)).dyes[0].remark).toBe('fourth vat');
    const back = await room.book('newer back');
    await readArchive(back, archive);
    const answer = await readArchive(back, (await exported(other, 'newer.zip')).path);
    expect(answer.renewed).toBe(2);
    expect(await rowsOf(back)).toEqual(await rowsOf(other));
  });

  it('carries a reading whose photo is lost, says so, and heals it where the other book has the photo', async () => {
    const holed = await room.book('holed');
    await readArchive(holed, archive);
    const photo = sha256Of(hemp.photo);
    rmSync(holed.photos.pathOf(photo));
    const { path, made: lossy } = await exported(holed, 'holed.zip');
    expect(lossy.photosLost).toBe(1);
    const bare = await room.book('bare');
    const answer = await readArchive(bare, path);
    expect(answer.photosLost).toBe(1);
    expect(answer.sentence).toContain('1 photo is lost');
    expect(readFileSync((await exported(bare, 'bare.zip')).path).equals(readFileSync(path))).toBe(true);
    await readArchive(holed, archive);
    expect(sha256Of(await holed.photos.read(photo))).toBe(photo);
  });
});
