import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import type { Kysely, Selectable } from 'kysely';
import { ZipFile } from 'yazl';
import { ARCHIVE_FORMAT, ARCHIVE_VERSION, type BookFile } from '../contracts/archive.ts';
import type { Store } from '../store/openStore.ts';
import { sha256Of } from '../store/photoFolder.ts';
import type { Tables } from '../store/schema.ts';
import { asRefusal } from '../store/trouble.ts';
import { BOOK_NAME, photoName, readingName } from './archiveNames.ts';
import { archived } from './archiveRows.ts';

/** The same book gives the same bytes: every file in it has one time, told in local time as zip has it, and no maker. */
const plain = () => ({ mtime: new Date(2000, 0, 1), forceDosTimestamp: true, mode: 0o100644 });

/** By code, not by a language's rules, in which databases differ. */
const byId = <T extends { readonly id: string }>(rows: readonly T[]): readonly T[] =>
  rows.toSorted((one, other) => (one.id < other.id ? -1 : 1));

/** Every row of the book but the readings themselves, at one moment. */
const snapshot = ({ database, write, read }: Pick<Store, 'database' | 'write' | 'read'>) => {
  const all = async (db: Kysely<Tables>) => ({
    dyes: byId(await db.selectFrom('dyes').selectAll().execute()),
    cloths: byId(await db.selectFrom('cloths').selectAll().execute()),
    lights: byId(await db.selectFrom('lights').selectAll().execute()),
    batches: byId(await db.selectFrom('batches').selectAll().execute()),
    cards: byId(await db.selectFrom('cards').selectAll().execute()),
    plans: byId(await db.selectFrom('plans').selectAll().execute()),
    photos: (await db.selectFrom('photos').selectAll().execute()).toSorted((one, other) =>
      one.sha256 < other.sha256 ? -1 : 1,
    ),
    readings: byId(await db.selectFrom('readings').selectAll().execute()),
    controls: byId(await db.selectFrom('controls').selectAll().execute()),
    prints: byId(await db.selectFrom('prints').selectAll().execute()),
    notes: byId(await db.selectFrom('notes').selectAll().execute()),
  });
  // SQLite has one connection here, so a transaction is a snapshot; PostgreSQL must be told to take one.
  return database === 'sqlite'
    ? write(all)
    : read((db) => db.transaction().setIsolationLevel('repeatable read').execute(all));
};

type Bodies = Pick<Selectable<Tables['readingBodies']>, 'settingsJson' | 'readingJson'>;

const bodyOf = (store: Store, id: string): Promise<Bodies> =>
  store.read((db) =>
    db
      .selectFrom('readingBodies')
      .select(['settingsJson', 'readingJson'])
      .where('readingId', '=', id)
      .executeTakeFirstOrThrow(),
  );

/** How many bytes a photo's file has; null where it is gone or no longer what its name says. */
const soundBytes = async (path: string, sha256: string): Promise<number | null> => {
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    for await (const chunk of createReadStream(path)) {
      hash.update(chunk as Uint8Array);
      bytes += (chunk as Uint8Array).byteLength;
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw asRefusal(error);
  }
  return hash.digest('hex') === sha256 ? bytes : null;
};

/** JSON with one row a line, so that two books can be compared by a person too. */
const bookText = (book: BookFile): string => {
  const parts = Object.entries(book).map(([key, value]) =>
    Array.isArray(value)
      ? `${JSON.stringify(key)}:[${value.map((row) => `\n${JSON.stringify(row)}`).join(',')}]`
      : `${JSON.stringify(key)}:${JSON.stringify(value)}`,
  );
  return `{\n${parts.join(',\n')}\n}\n`;
};

export interface ArchiveMade {
  readonly readings: number;
  readonly photos: number;
  /** Photos whose files the book has lost: their readings are in the archive all the same. */
  readonly photosLost: number;
}

export interface ArchiveStream {
  /** The archive as it is made: one reading in memory at a time, photos in pieces. */
  readonly bytes: Readable;
  /** Settles when everything has been handed over. */
  readonly made: Promise<ArchiveMade>;
}

/**
 * Packs the whole book: book.json with every row, each reading and each photo as a file of its own. What is written to the
 * book meanwhile is not in it. Curves drawn beside a reading are left out, since they follow from it.
 */
export const writeArchive = (store: Store): ArchiveStream => {
  const zip = new ZipFile();
  const bytes = zip.outputStream as Readable;
  const add = (name: string, size: number, compress: boolean, open: () => Readable): Promise<void> =>
    new Promise((done, fail) => {
      zip.addReadStreamLazy(name, { ...plain(), compress, size }, (give) => {
        const stream = open();
        stream.once('end', done);
        stream.once('error', fail);
        give(null, stream);
      });
    });
  const text = (name: string, json: string) => {
    const content = Buffer.from(json);
    return add(name, content.byteLength, true, () => Readable.from([content], { objectMode: false }));
  };

  const gone = new Promise<never>((_, fail) => {
    bytes.once('error', fail);
    bytes.once('close', () => fail(new Error('the archive was not taken to its end')));
    zip.on('error', fail);
  });
  gone.catch(() => undefined);

  const pack = async (): Promise<ArchiveMade> => {
    const rows = await snapshot(store);
    const readings: BookFile['readings'][number][] = [];
    for (const row of rows.readings) {
      const { settingsJson, readingJson } = await bodyOf(store, row.id);
      const json = `{"settings":${settingsJson},"reading":${readingJson}}\n`;
      await text(readingName(row.id), json);
      readings.push(archived.readings(row, sha256Of(new TextEncoder().encode(json))));
    }
    const photos: BookFile['photos'][number][] = [];
    for (const row of rows.photos) {
      const path = store.photos.pathOf(row.sha256);
      const size = await soundBytes(path, row.sha256);
      if (size !== null) await add(photoName(row.sha256), size, false, () => createReadStream(path));
      photos.push(archived.photos(row, size === null));
    }
    const book = {
      format: ARCHIVE_FORMAT,
      version: ARCHIVE_VERSION,
      dyes: rows.dyes.map(archived.dyes),
      cloths: rows.cloths.map(archived.cloths),
      lights: rows.lights.map(archived.lights),
      batches: rows.batches.map(archived.batches),
      cards: rows.cards.map(archived.cards),
      plans: rows.plans.map(archived.plans),
      photos,
      readings,
      controls: rows.controls.map(archived.controls),
      prints: rows.prints.map(archived.prints),
      notes: rows.notes.map(archived.notes),
    } as BookFile;
    await text(BOOK_NAME, bookText(book));
    zip.end();
    return {
      readings: readings.length,
      photos: photos.length,
      photosLost: photos.filter((photo) => photo.lost).length,
    };
  };
  const made = Promise.race([pack(), gone]).catch((error: unknown) => {
    bytes.destroy(error as Error);
    throw error;
  });
  return { bytes, made };
};
