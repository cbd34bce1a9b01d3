import { createWriteStream, readFileSync } from 'node:fs';
import { pipeline } from 'node:stream/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readArchive } from '../../../server/exchange/archiveRead.ts';
import { writeArchive } from '../../../server/exchange/archiveWrite.ts';
import { openStore, type Store } from '../../../server/store/openStore.ts';
import { noPostgres, type PostgresServer, startPostgres } from '../../helpers/postgresServer.ts';
import { bookRoom, fillBook } from './sampleBook.ts';

const room = bookRoom();
const exported = async (store: Store, name: string): Promise<string> => {
  const { bytes, made } = writeArchive(store);
  const path = room.path(name);
  await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
  return path;
};

describe.skipIf(noPostgres !== null)(
  `an archive between SQLite and PostgreSQL${noPostgres ? ` (skipped: ${noPostgres})` : ''}`,
  () => {
    let server: PostgresServer;
    const open: Store[] = [];
    beforeAll(() => {
      server = startPostgres();
    }, 60_000);
    afterAll(async () => {
      for (const store of open) await store.close();
      server?.stop();
    });
    const postgresBook = async (name: string): Promise<Store> => {
      const store = await openStore({ folder: room.path(name), databaseUrl: await server.makeDatabase() });
      open.push(store);
      return store;
    };

    it('goes from one to the other and back, byte for byte the same', async () => {
      const sqlite = await room.book('sqlite');
      await fillBook(sqlite);
      const first = await exported(sqlite, 'sqlite.zip');
      const postgres = await postgresBook('postgres');
      const answer = await readArchive(postgres, first);
      expect(answer.added).toMatchObject({ readings: 3, photos: 2, controls: 1, prints: 1, notes: 1 });
      const second = await exported(postgres, 'postgres.zip');
      expect(readFileSync(second).equals(readFileSync(first))).toBe(true);
      expect((await readArchive(postgres, first)).added).toEqual({});
      const back = await room.book('back');
      await readArchive(back, second);
      expect(readFileSync(await exported(back, 'back.zip')).equals(readFileSync(first))).toBe(true);
    });

    it('is brought into a shared book whole or not at all', async () => {
      const postgres = await postgresBook('half');
      const failing: Store = {
        ...postgres,
        write: (job) =>
          postgres.write(async (db) => {
            await job(db);
            throw new Error('the connection broke');
          }),
      };
      await expect(readArchive(failing, room.path('sqlite.zip'))).rejects.toThrow('the connection broke');
      expect(await postgres.read((db) => db.selectFrom('readings').selectAll().execute())).toEqual([]);
    });
  },
);
