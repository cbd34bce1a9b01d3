import {
  type DialectAdapter,
  type Driver,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
} from 'kysely';
import Database from 'libsql';
import { Refusal } from '../refusal.ts';
import { storedValues } from './storedValue.ts';

/** A statement that waits longer than this stops the whole server with it: waiting further is done between tries. */
const WAIT_MS = 150;

/**
 * Opens the file, with every safeguard on: a commit is on the disk before it is acknowledged, and a reader never stops
 * a writer.
 */
export const openSqlite = (path: string): Database.Database => {
  const db = new Database(path, { timeout: WAIT_MS });
  try {
    db.prepare('pragma journal_mode = wal').all();
    db.prepare('pragma synchronous = full').run();
    db.prepare('pragma foreign_keys = on').run();
    const [mode] = db.prepare('pragma journal_mode').all() as { journal_mode: string }[];
    if (mode?.journal_mode !== 'wal')
      throw new Refusal(
        'book-unavailable',
        'This disk can not hold a book: it keeps no shared memory, as network drives do not. Choose a folder on a disk of this computer with TONESTEP_DATA.',
      );
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
};

/** The binding as Kysely takes it, every value checked on its way in. */
const guarded = (db: Database.Database): SqliteDatabase => ({
  close: () => db.close(),
  prepare: (text) => {
    const statement = db.prepare(text);
    return {
      reader: statement.reader,
      all: (values) => statement.all(storedValues(values)),
      run: (values) => {
        const { changes, lastInsertRowid } = statement.run(storedValues(values));
        return { changes, lastInsertRowid };
      },
      iterate: (values) => statement.iterate(storedValues(values)) as IterableIterator<unknown>,
    };
  },
});

/** Takes the write lock when a transaction begins, so that none has to be given up half-way. */
class WritingDriver extends SqliteDriver {
  readonly #db: Database.Database;

  constructor(db: Database.Database) {
    super({ database: guarded(db) });
    this.#db = db;
  }

  // Run at once and not prepared: a prepared "begin" that met a lock stays open, and no commit goes past it.
  override async beginTransaction(): Promise<void> {
    this.#db.exec('begin immediate');
  }

  override async commitTransaction(): Promise<void> {
    this.#db.exec('commit');
  }

  override async rollbackTransaction(): Promise<void> {
    // On a full disk SQLite has rolled back by itself; asking again would hide why.
    if (this.#db.inTransaction) this.#db.exec('rollback');
  }
}

/** SQLite changes tables within a transaction as well; so a migration happens whole, and once. */
class WholeMigrations extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

export class BookSqliteDialect extends SqliteDialect {
  readonly #db: Database.Database;

  constructor(db: Database.Database) {
    super({ database: guarded(db) } satisfies SqliteDialectConfig);
    this.#db = db;
  }

  override createDriver(): Driver {
    return new WritingDriver(this.#db);
  }

  override createAdapter(): DialectAdapter {
    return new WholeMigrations();
  }
}
