import { copyFile, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { sql } from 'kysely';
import { Refusal } from '../refusal.ts';
import { BOOK_FILE, type Store } from './openStore.ts';
import { openPhotoFolder, sha256Of } from './photoFolder.ts';
import { openSqlite } from './sqlite.ts';
import { asRefusal, troubleOf } from './trouble.ts';

export interface BackupReport {
  readonly readings: number;
  readonly photos: number;
  /** Photos that the data folder no longer had, so that they are not in the backup. */
  readonly lost: readonly string[];
}

const there = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

const flush = async (path: string): Promise<void> => {
  if (process.platform === 'win32') return;
  const entry = await open(path, 'r');
  try {
    await entry.sync();
  } finally {
    await entry.close();
  }
};

const refuse = (sentence: string): Refusal => new Refusal('request-invalid', sentence);

const inWords = async <T>(job: () => Promise<T>): Promise<T> => {
  try {
    return await job();
  } catch (error) {
    throw asRefusal(error);
  }
};

/**
 * Copies the book as it stands, also while others write in it, and the photos that it names into a new folder. The folder
 * has another name until everything in it is on the disk.
 *
 * @throws Refusal `request-invalid` where the folder is there already or the book is on PostgreSQL; `disk-full` and others
 *   of the store.
 */
export const backupStore = (store: Store, folder: string): Promise<BackupReport> =>
  inWords(async () => {
    if (store.database === 'postgresql')
      throw refuse(
        'This book is on PostgreSQL, which has its own program for this. First: pg_dump --format=custom --file=book.dump "$TONESTEP_DATABASE". After it, copy the folder "photos" of the data folder. docs/deploy.md says how both come back; "tonestep export" packs the whole book into one file as well.',
      );
    if (await there(folder))
      throw refuse('There is something at this place already. Name a folder that does not exist yet.');
    const unfinished = `${folder}.unfinished`;
    if (await there(unfinished))
      throw refuse(
        'An unfinished backup is in the way: its name ends in ".unfinished". Remove it, or name another folder.',
      );
    await mkdir(unfinished, { recursive: true });
    try {
      const copy = join(unfinished, BOOK_FILE);
      await store.read((db) => sql`vacuum into ${copy}`.execute(db));
      const photos = await openPhotoFolder(join(unfinished, 'photos'));
      const db = openSqlite(copy);
      const named = db.prepare('select sha256 from photos').all() as { sha256: string }[];
      const [{ n }] = db.prepare('select count(*) as n from readings').all() as { n: number }[];
      db.prepare('pragma journal_mode = delete').all();
      db.close();
      const lost: string[] = [];
      for (const { sha256 } of named) {
        const bytes = await store.photos.read(sha256).catch((error: unknown) => {
          if (error instanceof Refusal && error.code === 'photo-lost') return null;
          throw error;
        });
        if (bytes) await photos.keep(bytes);
        else lost.push(sha256);
      }
      await flush(copy);
      await flush(unfinished);
      await rename(unfinished, folder);
      await flush(dirname(folder));
      return { readings: n, photos: named.length - lost.length, lost };
    } catch (error) {
      await rm(unfinished, { recursive: true, force: true });
      throw error;
    }
  });

/** Closes the files of a book for good; null where another program has it open. */
const settle = (path: string): boolean => {
  const db = openSqlite(path);
  try {
    const [{ journal_mode }] = db.prepare('pragma journal_mode = delete').all() as {
      journal_mode: string;
    }[];
    return journal_mode === 'delete';
  } catch (error) {
    if (troubleOf(error) === 'busy') return false;
    throw error;
  } finally {
    db.close();
  }
};

const checkCopy = (
  path: string,
): { readonly sound: boolean; readonly photos: readonly string[]; readonly readings: number } => {
  const db = openSqlite(path);
  try {
    const [{ integrity_check }] = db.prepare('pragma integrity_check').all() as { integrity_check: string }[];
    const photos = db.prepare('select sha256 from photos').all() as { sha256: string }[];
    const [{ n }] = db.prepare('select count(*) as n from readings').all() as { n: number }[];
    db.prepare('pragma journal_mode = delete').all();
    return { sound: integrity_check === 'ok', photos: photos.map((row) => row.sha256), readings: n };
  } finally {
    db.close();
  }
};

export interface RestoreReport extends BackupReport {
  /** Folder within the data folder where the book lies that was there before; null where there was none. */
  readonly setAside: string | null;
}

/**
 * Brings a backup back into a data folder. A book that is there is refused, or set aside with `replace`, never removed;
 * photos that are there stay. The backup itself is only read.
 *
 * @throws Refusal `request-invalid`, `book-busy` while another program has the book open, and those of the store.
 */
export const restoreStore = (
  from: string,
  folder: string,
  { replace, now }: { readonly replace: boolean; readonly now: Date },
): Promise<RestoreReport> =>
  inWords(async () => {
    const source = join(from, BOOK_FILE);
    if (!(await there(source)))
      throw refuse(`There is no ${BOOK_FILE} in this folder. Name the folder that "tonestep backup" made.`);
    const place = join(folder, BOOK_FILE);
    const occupied = await there(place);
    if (occupied && !replace)
      throw refuse(
        'The data folder has a book already. Add --replace to set it aside, or name another folder with TONESTEP_DATA.',
      );
    await mkdir(folder, { recursive: true });
    const arriving = join(folder, `${BOOK_FILE}.arriving`);
    try {
      await copyFile(source, arriving);
      const { sound, photos, readings } = checkCopy(arriving);
      if (!sound)
        throw refuse('The book in this backup is damaged. Nothing was changed; use an older backup.');
      const shelf = await openPhotoFolder(join(folder, 'photos'));
      const stored = join(from, 'photos');
      const lost: string[] = [];
      for (const sha256 of photos) {
        const path = join(stored, sha256.slice(0, 2), sha256);
        const bytes = (await there(path)) ? await readFile(path) : null;
        if (bytes && sha256Of(bytes) === sha256) await shelf.keep(bytes);
        else if (!(await shelf.read(sha256).catch(() => null))) lost.push(sha256);
      }
      await flush(arriving);
      let setAside: string | null = null;
      if (occupied) {
        if (!settle(place))
          throw new Refusal(
            'book-busy',
            'Another program has the book open. Stop Tonestep wherever it runs on this book, then restore again.',
          );
        setAside = join('set-aside', now.toISOString().replaceAll(':', '-'));
        await mkdir(join(folder, setAside), { recursive: true });
        await rename(place, join(folder, setAside, BOOK_FILE));
      }
      await rename(arriving, place);
      await flush(folder);
      return { readings, photos: photos.length - lost.length, lost, setAside };
    } finally {
      for (const name of await readdir(folder).catch(() => []))
        if (name.startsWith(`${BOOK_FILE}.arriving`)) await rm(join(folder, name), { force: true });
    }
  });
