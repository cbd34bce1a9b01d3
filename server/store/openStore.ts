import { access, constants, mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { Kysely, Migrator, type Transaction } from 'kysely';
import { Refusal } from '../refusal.ts';
import { MIGRATIONS } from './migrations.ts';
import { openPhotoFolder, type PhotoFolder } from './photoFolder.ts';
import { postgresDialect } from './postgres.ts';
import type { Tables } from './schema.ts';
import { BookSqliteDialect, openSqlite } from './sqlite.ts';
import { asRefusal, troubleOf } from './trouble.ts';

/** The book: its tables, and the photos beside them. */
export interface Store {
  readonly database: 'sqlite' | 'postgresql';
  readonly folder: string;
  readonly photos: PhotoFolder;
  /** Asks; tried again for a while where another program is in the way. */
  read<T>(job: (db: Kysely<Tables>) => Promise<T>): Promise<T>;
  /**
   * Changes, all of it or nothing. May run the job more than once: what it does besides must bear that.
   * @throws Refusal `disk-full`, `book-read-only`, `book-busy`, `book-conflict`, `book-unavailable`.
   */
  write<T>(job: (db: Transaction<Tables>) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

export interface StoreOptions {
  /** The data folder; made where it is not there. */
  readonly folder: string;
  /** `postgres://…` for a database that several servers share; a file in the data folder when left out. */
  readonly databaseUrl?: string | undefined;
  /** How long to wait for another program, in ms. */
  readonly patienceMs?: number;
}

export const BOOK_FILE = 'book.sqlite';

/** Again and again while others hold the lock, at uneven times so that two don't keep meeting. */
const patiently = async <T>(job: () => Promise<T>, patienceMs: number): Promise<T> => {
  const until = Date.now() + patienceMs;
  for (let round = 0; ; round++) {
    try {
      return await job();
    } catch (error) {
      if (troubleOf(error) !== 'busy' || Date.now() >= until) throw asRefusal(error);
      await pause(Math.min(200, 5 * 2 ** round) * (0.5 + Math.random()));
    }
  }
};

const migrate = async (db: Kysely<Tables>): Promise<void> => {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
  const { error } = await migrator.migrateToLatest();
  if (!error) return;
  if (error instanceof Error && /^corrupted migrations/.test(error.message))
    throw new Refusal(
      'book-unavailable',
      'This book was written by a newer Tonestep. Update Tonestep, then open it again.',
    );
  throw error;
};

const openDatabase = async (
  { folder, databaseUrl }: StoreOptions,
  patienceMs: number,
): Promise<Kysely<Tables>> => {
  if (databaseUrl === undefined) {
    const file = openSqlite(join(folder, BOOK_FILE));
    return new Kysely<Tables>({ dialect: new BookSqliteDialect(file) });
  }
  if (!/^postgres(?:ql)?:\/\//.test(databaseUrl))
    throw new Refusal(
      'book-unavailable',
      'TONESTEP_DATABASE must begin with postgres://. Leave it out to keep the book in the data folder.',
    );
  return new Kysely<Tables>({ dialect: postgresDialect(databaseUrl, patienceMs) });
};

/**
 * Opens the book, makes it where there is none, and brings its schema up to date. Several programs may hold it open.
 *
 * @throws Refusal `book-read-only`, `disk-full`, `book-unavailable`, `book-busy`.
 */
export const openStore = async (options: StoreOptions): Promise<Store> => {
  const { folder, patienceMs = 10_000 } = options;
  const opened = await patiently(async () => {
    await mkdir(folder, { recursive: true });
    await access(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    const photos = await openPhotoFolder(join(folder, 'photos'));
    const db = await openDatabase(options, patienceMs);
    try {
      await migrate(db);
    } catch (error) {
      await db.destroy();
      throw error;
    }
    return { db, photos };
  }, patienceMs);
  const { db, photos } = opened;

  return {
    database: options.databaseUrl === undefined ? 'sqlite' : 'postgresql',
    folder,
    photos: {
      pathOf: photos.pathOf,
      keep: (bytes) => patiently(() => photos.keep(bytes), 0),
      read: (sha256) => patiently(() => photos.read(sha256), 0),
      list: () => patiently(() => photos.list(), 0),
      has: (sha256) => patiently(() => photos.has(sha256), 0),
      remove: (sha256) => patiently(() => photos.remove(sha256), 0),
      stage: () =>
        patiently(async () => {
          const stage = await photos.stage();
          return {
            keep: (bytes) => patiently(() => stage.keep(bytes), 0),
            takeIn: () => patiently(() => stage.takeIn(), 0),
            drop: () => patiently(() => stage.drop(), 0),
          };
        }, 0),
    },
    read: (job) => patiently(() => job(db), patienceMs),
    write: (job) => patiently(() => db.transaction().execute(job), patienceMs),
    close: () => db.destroy(),
  };
};
