import { execFileSync, spawnSync } from 'node:child_process';
import { createWriteStream, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { Kysely, Migrator, sql } from 'kysely';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeArchive } from '../../../server/exchange/archiveWrite.ts';
import { backupStore } from '../../../server/store/backup.ts';
import { checkStore } from '../../../server/store/checkStore.ts';
import { MIGRATIONS } from '../../../server/store/migrations.ts';
import { openStore, type Store } from '../../../server/store/openStore.ts';
import { postgresDialect } from '../../../server/store/postgres.ts';
import type { Tables } from '../../../server/store/schema.ts';
import { namedRow } from '../../helpers/namedRow.ts';
import { noPostgres, type PostgresServer, startPostgres } from '../../helpers/postgresServer.ts';
import { fillBook } from '../exchange/sampleBook.ts';

const noDump =
  noPostgres ?? (spawnSync('pg_dump', ['--version']).error ? 'pg_dump is not on the path' : null);
/** The commands of docs/deploy.md that begin with a word, block by block. */
const commandsOf = (first: string): string => {
  const text = readFileSync(resolve(import.meta.dirname, '../../../docs/deploy.md'), 'utf8');
  const block = [...text.matchAll(/```\n([^`]+)```/g)]
    .map(([, lines]) => lines)
    .find((b) => b.startsWith(first));
  if (!block) throw new Error(`docs/deploy.md has no commands that begin with ${first}`);
  return block;
};

describe.skipIf(noPostgres !== null)(
  `a shared book on PostgreSQL${noPostgres ? ` (skipped: ${noPostgres})` : ''}`,
  () => {
    let folder = '';
    let server: PostgresServer;
    const stores: Store[] = [];
    beforeAll(() => {
      folder = mkdtempSync(join(tmpdir(), 'tonestep-shared-'));
      server = startPostgres();
    }, 60_000);
    afterAll(async () => {
      for (const store of stores) await store.close();
      server?.stop();
      rmSync(folder, { recursive: true, force: true });
    });
    const open = async (name: string, databaseUrl: string, patienceMs = 10_000): Promise<Store> => {
      const store = await openStore({ folder: join(folder, name), databaseUrl, patienceMs });
      stores.push(store);
      return store;
    };
    const archiveOf = async (store: Store, name: string): Promise<Buffer> => {
      const { bytes, made } = writeArchive(store);
      const path = join(folder, name);
      await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
      return readFileSync(path);
    };

    it('tells "tonestep backup" what to do instead, command and all', async () => {
      const store = await open('told', await server.makeDatabase());
      await expect(backupStore(store, join(folder, 'nowhere'))).rejects.toMatchObject({
        code: 'request-invalid',
        message: expect.stringMatching(/pg_dump --format=custom .*photos.*docs\/deploy\.md/),
      });
    });

    it.skipIf(noDump !== null)(
      'comes back whole from the backup that docs/deploy.md describes, with its commands as they stand there',
      async () => {
        const url = await server.makeDatabase();
        const store = await open('shop', url);
        await fillBook(store);
        const before = await archiveOf(store, 'before.zip');
        const run = (commands: string, env: Readonly<Record<string, string>>) =>
          execFileSync('sh', ['-e', '-c', commands], {
            cwd: folder,
            env: { ...process.env, ...env },
            stdio: ['ignore', 'ignore', 'pipe'],
          });
        run(commandsOf('pg_dump'), { TONESTEP_DATABASE: url, TONESTEP_DATA: join(folder, 'shop') });
        const anew = await server.makeDatabase();
        const data = join(folder, 'anew');
        const commands = commandsOf('pg_restore')
          .split('\n')
          .filter((line) => !line.startsWith('tonestep'))
          .join('\n');
        run(`mkdir -p "$TONESTEP_DATA/photos"\n${commands}`, {
          TONESTEP_DATABASE: anew,
          TONESTEP_DATA: data,
        });
        const restored = await open('anew', anew);
        expect((await archiveOf(restored, 'after.zip')).equals(before)).toBe(true);
        expect(await checkStore(restored)).toMatchObject({ photos: 2, lost: [], spare: 0 });
      },
      30_000,
    );

    it('of the first schema is brought up to date with what was in it', async () => {
      const url = await server.makeDatabase();
      const old = new Kysely<Tables>({ dialect: postgresDialect(url, 1000) });
      const migrator = new Migrator({
        db: old,
        provider: { getMigrations: async () => ({ ...MIGRATIONS }) },
      });
      expect((await migrator.migrateTo('001-first')).error).toBeUndefined();
      await old.insertInto('dyes').values(namedRow('Weld')).execute();
      await old.destroy();
      const store = await open('old', url);
      expect(await store.read((db) => db.selectFrom('dyes').select('name').execute())).toEqual([
        { name: 'Weld' },
      ]);
      // A reading's texts may lie there before its row since the second.
      await store.write((db) =>
        db
          .insertInto('readingBodies')
          .values({ readingId: crypto.randomUUID(), settingsJson: '{}', readingJson: '{}' })
          .execute(),
      );
    });

    it('is tried again where two writes lock each other out: both are in it afterwards', async () => {
      const url = await server.makeDatabase();
      const one = await open('one', url);
      const other = await open('other', url);
      const [weld, madder] = [namedRow('Weld'), namedRow('Madder')];
      await one.write((db) => db.insertInto('dyes').values([weld, madder]).execute());
      let tries = 0;
      const both = (store: Store, ids: readonly string[], remark: string) =>
        store.write(async (db) => {
          tries += 1;
          for (const id of ids) {
            await db
              .updateTable('dyes')
              .set((e) => ({ remark: sql<string>`${e.ref('remark')} || ${remark}` }))
              .where('id', '=', id)
              .execute();
            await pause(150);
          }
        });
      await Promise.all([both(one, [weld.id, madder.id], 'a'), both(other, [madder.id, weld.id], 'b')]);
      expect(tries).toBeGreaterThan(2);
      const remarks = await one.read((db) => db.selectFrom('dyes').select('remark').execute());
      for (const { remark } of remarks) expect([...remark].sort().join('')).toBe('ab');
    }, 30_000);

    it('says "busy" where another program holds a row for longer than there is patience, and nothing is changed', async () => {
      const url = await server.makeDatabase();
      const store = await open('busy', url, 300);
      const weld = namedRow('Weld');
      await store.write((db) => db.insertInto('dyes').values(weld).execute());
      const other = new pg.Client(url);
      await other.connect();
      await other.query('begin');
      await other.query(`update dyes set remark = 'theirs'`);
      const began = performance.now();
      await expect(
        store.write((db) => db.updateTable('dyes').set({ remark: 'ours' }).execute()),
      ).rejects.toMatchObject({ code: 'book-busy', retryAfterSeconds: 3 });
      expect(performance.now() - began).toBeLessThan(3000);
      await other.query('rollback');
      await other.end();
      expect(await store.read((db) => db.selectFrom('dyes').select('remark').execute())).toEqual([
        { remark: '' },
      ]);
    });

    it('goes on after its connections were cut while nobody asked', async () => {
      const url = await server.makeDatabase();
      const store = await open('cut', url);
      await store.write((db) => db.insertInto('dyes').values(namedRow('Weld')).execute());
      const other = new pg.Client(url);
      await other.connect();
      await other.query(
        'select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()',
      );
      await other.end();
      await pause(100);
      expect(await store.read((db) => db.selectFrom('dyes').select('name').execute())).toHaveLength(1);
    });

    it('refuses what is cut in the middle of a write whole, and says that the database is away', async () => {
      const url = await server.makeDatabase();
      const store = await open('cut in a write', url);
      const cut = store.write(async (db) => {
        await db.insertInto('dyes').values(namedRow('Weld')).execute();
        const other = new pg.Client(url);
        await other.connect();
        await other.query(
          'select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()',
        );
        await other.end();
        await pause(50);
        await db.insertInto('dyes').values(namedRow('Madder')).execute();
      });
      await expect(cut).rejects.toMatchObject({ code: 'book-unavailable' });
      expect(await store.read((db) => db.selectFrom('dyes').selectAll().execute())).toEqual([]);
    });
  },
);
