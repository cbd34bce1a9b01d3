import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Kysely, sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BOOK_FILE, openStore, type Store } from '../../../server/store/openStore.ts';
import type { Tables } from '../../../server/store/schema.ts';
import { BookSqliteDialect, openSqlite } from '../../../server/store/sqlite.ts';
import { namedRow } from '../../helpers/namedRow.ts';
import { noPostgres, type PostgresServer, startPostgres } from '../../helpers/postgresServer.ts';

let folder = '';
let server: PostgresServer | null = null;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-store-'));
  if (noPostgres === null) server = startPostgres();
}, 60_000);
afterAll(() => {
  server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const TABLES = [
  'arrivals',
  'batches',
  'cards',
  'cloths',
  'controls',
  'curveDraws',
  'dyes',
  'lights',
  'notes',
  'photos',
  'plans',
  'prints',
  'readingBodies',
  'readings',
];

/** What both databases have to do alike. */
const facts = (open: (name: string) => Promise<Store>) => {
  it('has the fourteen tables of the book after opening, and opens again', async () => {
    const store = await open('tables');
    const found = await store.read((db) => db.introspection.getTables());
    expect(found.map((t) => t.name).sort()).toEqual(TABLES);
    await store.close();
    const again = await open('tables');
    expect(await again.read((db) => db.selectFrom('dyes').selectAll().execute())).toEqual([]);
    await again.close();
  });

  it('is made once where four programs open the same empty book at once', async () => {
    const stores = await Promise.all([1, 2, 3, 4].map(() => open('at once')));
    await stores[0].write((db) => db.insertInto('dyes').values(namedRow('Weld')).execute());
    for (const store of stores)
      expect(await store.read((db) => db.selectFrom('dyes').select('name').execute())).toEqual([
        { name: 'Weld' },
      ]);
    await Promise.all(stores.map((store) => store.close()));
  });

  it('gives numbers and texts back as they were written: 0.1, 1e-9, 12345678.9, ü, 漢, 🌊, quotes', async () => {
    const store = await open('values');
    const light = {
      ...namedRow('Tubes "at" 20 cm; it\'s ü 漢 🌊\nsecond line\ttab'),
      kind: 'lamps' as const,
      distanceCm: 0.1,
      glass: '',
      lampHours: 12345678.9,
    };
    await store.write((db) => db.insertInto('lights').values(light).execute());
    await store.write((db) =>
      db
        .insertInto('lights')
        .values({ ...light, ...namedRow('small'), distanceCm: 1e-9 })
        .execute(),
    );
    const [one, other] = await store.read((db) =>
      db.selectFrom('lights').selectAll().orderBy('distanceCm', 'desc').execute(),
    );
    expect(one).toEqual(light);
    expect(other.distanceCm).toBe(1e-9);
    await store.close();
  });

  it.each([
    ['a boolean', true],
    ['NaN', Number.NaN],
    ['an infinity', Number.POSITIVE_INFINITY],
    ['a text with a NUL', 'half\0lost'],
    ['half a character', 'lost \ud83d'],
    ['an object', { L: 40 }],
  ])('refuses %s as a value, and the book stays as it was', async (_, value) => {
    const store = await open('refusals');
    const bad = { ...namedRow('bad'), remark: value as string };
    await expect(store.write((db) => db.insertInto('dyes').values(bad).execute())).rejects.toMatchObject({
      code: 'request-invalid',
    });
    expect(await store.read((db) => db.selectFrom('dyes').selectAll().execute())).toEqual([]);
    await store.close();
  });

  it('refuses a second dye of one name and a batch of a dye that is not there', async () => {
    const store = await open('constraints');
    await store.write((db) => db.insertInto('dyes').values(namedRow('Madder')).execute());
    await expect(
      store.write((db) => db.insertInto('dyes').values(namedRow('MADDER')).execute()),
    ).rejects.toMatchObject({ code: 'book-conflict' });
    await expect(
      store.write((db) =>
        db
          .insertInto('batches')
          .values({ ...namedRow('Monday'), dyeId: crypto.randomUUID(), mixedAt: '2026-05-03T09:00:00.000Z' })
          .execute(),
      ),
    ).rejects.toMatchObject({ code: 'book-conflict' });
    await store.close();
  });

  it('takes back the whole of a change that fails half-way', async () => {
    const store = await open('half-way');
    await expect(
      store.write(async (db) => {
        await db.insertInto('dyes').values(namedRow('Woad')).execute();
        throw new Error('half-way');
      }),
    ).rejects.toThrow('half-way');
    expect(await store.read((db) => db.selectFrom('dyes').selectAll().execute())).toEqual([]);
    await store.close();
  });

  it('refuses a book with a migration that it does not know, as one of a newer version', async () => {
    const store = await open('newer');
    await store.write((db) =>
      sql`insert into kysely_migration (name, timestamp) values ('999-later', '2030-01-01T00:00:00.000Z')`.execute(
        db,
      ),
    );
    await store.close();
    await expect(open('newer')).rejects.toMatchObject({
      code: 'book-unavailable',
      message: expect.stringMatching(/newer/),
    });
  });
};

describe('a book on SQLite', () => {
  facts((name) => openStore({ folder: join(folder, name) }));

  it('flushes every commit, keeps foreign keys and writes ahead', () => {
    const db = openSqlite(join(folder, 'values', BOOK_FILE));
    // SQLite documentation, PRAGMA synchronous: 2 is FULL.
    expect(db.prepare('pragma synchronous').all()).toEqual([{ synchronous: 2 }]);
    expect(db.prepare('pragma foreign_keys').all()).toEqual([{ foreign_keys: 1 }]);
    expect(db.prepare('pragma journal_mode').all()).toEqual([{ journal_mode: 'wal' }]);
    expect(db.prepare('pragma integrity_check').all()).toEqual([{ integrity_check: 'ok' }]);
    db.close();
  });

  it('waits for another program that holds the lock for 400 ms, and then writes', async () => {
    const store = await openStore({ folder: join(folder, 'waits') });
    const other = openSqlite(join(folder, 'waits', BOOK_FILE));
    other.exec('begin immediate');
    setTimeout(() => other.exec('rollback'), 400);
    await store.write((db) => db.insertInto('dyes').values(namedRow('Weld')).execute());
    expect(await store.read((db) => db.selectFrom('dyes').select('name').execute())).toHaveLength(1);
    other.close();
    await store.close();
  });

  it('says "busy" where the other program does not let go', async () => {
    const store = await openStore({ folder: join(folder, 'busy'), patienceMs: 300 });
    const other = openSqlite(join(folder, 'busy', BOOK_FILE));
    other.exec('begin immediate');
    await expect(
      store.write((db) => db.insertInto('dyes').values(namedRow('Weld')).execute()),
    ).rejects.toMatchObject({ code: 'book-busy', retryAfterSeconds: 3 });
    other.exec('rollback');
    other.close();
    await store.close();
  });

  it('says that a file is no book where it is none', async () => {
    const { writeFileSync, mkdirSync } = await import('node:fs');
    mkdirSync(join(folder, 'no book'));
    writeFileSync(
      join(folder, 'no book', BOOK_FILE),
      'These are notes about seaweed, not a database.'.repeat(200),
    );
    await expect(openStore({ folder: join(folder, 'no book') })).rejects.toMatchObject({
      code: 'book-unavailable',
      message: expect.stringMatching(/restore/),
    });
  });

  it('has a dialect whose migrations are whole', () => {
    const db = new Kysely<Tables>({
      dialect: new BookSqliteDialect(openSqlite(join(folder, 'values', BOOK_FILE))),
    });
    expect(db.getExecutor().adapter.supportsTransactionalDdl).toBe(true);
    return db.destroy();
  });
});

describe.skipIf(noPostgres !== null)(
  `a book on PostgreSQL${noPostgres ? `, skipped: ${noPostgres}` : ''}`,
  () => {
    const urls = new Map<string, string>();
    const makeUrl = async (name: string): Promise<string> => {
      const known = urls.get(name);
      if (known) return known;
      const url = await server!.makeDatabase();
      urls.set(name, url);
      return url;
    };
    const once = new Map<string, Promise<string>>();
    facts(async (name) => {
      const url = once.get(name) ?? makeUrl(name);
      once.set(name, url);
      return openStore({ folder: join(folder, `pg ${name}`), databaseUrl: await url });
    });

    it('says that the database can not be reached where no server listens', async () => {
      await expect(
        openStore({ folder: join(folder, 'nobody'), databaseUrl: 'postgres://tonestep@127.0.0.1:1/none' }),
      ).rejects.toMatchObject({
        code: 'book-unavailable',
        message: expect.not.stringMatching(/127\.0\.0\.1|tonestep@/),
      });
    });
  },
);

it('refuses an address of another kind of database', async () => {
  await expect(
    openStore({ folder: join(folder, 'other'), databaseUrl: 'mysql://localhost/book' }),
  ).rejects.toMatchObject({ code: 'book-unavailable', message: expect.stringMatching(/postgres:\/\//) });
});
