import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { checkStore } from '../../../server/store/checkStore.ts';
import { openStore, type Store } from '../../../server/store/openStore.ts';
import { noPostgres, type PostgresServer, startPostgres } from '../../helpers/postgresServer.ts';
import { runs } from '../../helpers/runs.ts';
import { demoFiles, directAnalyst } from '../../helpers/serverUnderTest.ts';
import { missingFrom, runWriter } from '../../helpers/writers.ts';

let folder = '';
let readingPath = '';
let postgres: PostgresServer | null = null;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-killed-'));
  readingPath = join(folder, 'reading.json');
  const { photo, strip, marks } = demoFiles('hemp-banner-blue');
  const reading = await directAnalyst.read({
    kind: 'read',
    photo,
    strip: parseStrip(JSON.parse(strip)),
    marks: parseMarks(JSON.parse(marks)),
  });
  writeFileSync(readingPath, JSON.stringify(reading));
  if (noPostgres === null) postgres = startPostgres();
}, 60_000);
afterAll(() => {
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const KILLS = runs('kills of a program that writes in the book', 20, 3);

it(`loses nothing that it acknowledged when killed ${KILLS} times within 200 random writes, and stays sound`, async () => {
  const book = join(folder, 'killed');
  const all: string[] = [];
  for (let round = 0; round < KILLS; round++) {
    const { acknowledged, done, errors } = await runWriter({
      folder: book,
      readingPath,
      seed: 1000 + round,
      writes: 200,
      killAfter: 1 + ((round * 37 + 11) % 90),
    });
    expect({ done, errors }).toEqual({ done: false, errors: '' });
    all.push(...acknowledged);
    const store = await openStore({ folder: book });
    expect(await missingFrom(store, all)).toEqual([]);
    expect(await checkStore(store)).toMatchObject({ sound: true, lost: [] });
    await store.close();
  }
  expect(all.filter((line) => line.startsWith('reading')).length).toBeGreaterThan(10 * KILLS);
}, 240_000);

const bothThere = async (store: Store, results: Awaited<ReturnType<typeof runWriter>>[]) => {
  for (const { done, errors } of results) expect({ done, errors }).toEqual({ done: true, errors: '' });
  const all = results.flatMap((result) => result.acknowledged);
  expect(all).toHaveLength(120);
  expect(await missingFrom(store, all)).toEqual([]);
  expect(await checkStore(store)).toMatchObject({ sound: true, lost: [] });
  const names = await store.read((db) => db.selectFrom('dyes').select('name').orderBy('name').execute());
  expect(names.map((row) => row.name)).toEqual(['dye 0', 'dye 1', 'dye 2', 'dye 3', 'dye 4']);
  await store.close();
};

it('takes 60 writes from each of two programs at once in one file, and five dyes are made once', async () => {
  const book = join(folder, 'two');
  const results = await Promise.all(
    [1, 2].map((seed) => runWriter({ folder: book, readingPath, seed, writes: 60 })),
  );
  await bothThere(await openStore({ folder: book }), results);
}, 120_000);

it.skipIf(noPostgres !== null)(
  `takes 60 writes from each of two programs at once on PostgreSQL${noPostgres ? `, skipped: ${noPostgres}` : ''}`,
  async () => {
    const databaseUrl = await postgres!.makeDatabase();
    const book = join(folder, 'two on postgres');
    const results = await Promise.all(
      [1, 2].map((seed) => runWriter({ folder: book, readingPath, seed, writes: 60, databaseUrl })),
    );
    await bothThere(await openStore({ folder: book, databaseUrl }), results);
  },
  120_000,
);
