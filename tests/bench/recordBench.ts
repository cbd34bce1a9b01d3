import { createWriteStream, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pipeline } from 'node:stream/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../analysis/reading.ts';
import { keepContext, readingFilter } from '../../server/contracts/recordReadings.ts';
import { readArchive } from '../../server/exchange/archiveRead.ts';
import { writeArchive } from '../../server/exchange/archiveWrite.ts';
import { performRead } from '../../server/perform.ts';
import type { Desk } from '../../server/record/bookDesk.ts';
import { keepReading } from '../../server/record/keepReading.ts';
import { listReadings } from '../../server/record/readingRows.ts';
import { makeThing } from '../../server/record/things.ts';
import { whatTimeToday } from '../../server/record/today.ts';
import { BOOK_FILE, openStore } from '../../server/store/openStore.ts';
import { fillBook } from '../helpers/filledBook.ts';
import { renderTwelveMegapixels } from './benchPhoto.ts';
import { percentile } from './tables.ts';

const READINGS = 10_000;
const ASKED = 200;
const DEMO = join(import.meta.dirname, '../../fixtures/demo');

const demoReading = (name: string): Promise<Reading> => {
  const json = (what: string) => JSON.parse(readFileSync(join(DEMO, `${name}.${what}.json`), 'utf8'));
  return performRead({
    kind: 'read',
    photo: new Uint8Array(readFileSync(join(DEMO, `${name}.jpg`))),
    strip: parseStrip(json('strip')),
    marks: parseMarks(json('marks')),
  });
};

const times = async (count: number, ask: (i: number) => Promise<unknown>): Promise<number[]> => {
  const taken: number[] = [];
  for (let i = 0; i < count; i++) {
    const start = performance.now();
    await ask(i);
    taken.push(performance.now() - start);
  }
  return taken;
};

const line = (name: string, taken: readonly number[]): string[] => [
  name,
  `${percentile(taken, 50).toFixed(1)} ms`,
  `${percentile(taken, 95).toFixed(1)} ms`,
  `${Math.max(...taken).toFixed(1)} ms`,
];

/** How many readings the archive has that is brought in. */
const ARCHIVED = 3000;

/** An archive on its way in, readings kept meanwhile: how long does the one take, how long does each of the others wait? */
const measureImport = async (folder: string, reading: Reading, desk: Desk): Promise<string[][]> => {
  const from = await openStore({ folder: join(folder, 'from') });
  await fillBook(from, [reading], ARCHIVED, 2);
  const path = join(folder, 'archive.zip');
  const { bytes, made } = writeArchive(from);
  await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
  await from.close();
  let done = false;
  const waits: number[] = [];
  const keeper = (async () => {
    for (let i = 0; !done; i++) {
      waits.push(
        ...(await times(1, () => makeThing(desk, 'dyes', { name: `kept meanwhile ${i}`, remark: '' }))),
      );
      await pause(10);
    }
  })();
  const [tookMs] = await times(1, () => readArchive(desk.store, path));
  done = true;
  await keeper;
  return [
    [
      `an archive of ${ARCHIVED} readings comes in`,
      `${(tookMs / 1000).toFixed(0)} s`,
      `${(statSync(path).size / 1e6).toFixed(0)} MB`,
    ],
    line('keep a row meanwhile', waits),
  ];
};

/** A book of 10,000 readings on SQLite: how long do list, filter, 'what time today' and keeping take; how large is it? */
export const measureRecord = async (): Promise<{
  readonly rows: string[][];
  readonly size: readonly string[];
}> => {
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-bench-'));
  const store = await openStore({ folder });
  try {
    const readings = await Promise.all(['hemp-banner-blue', 'silk-scarf-plum'].map(demoReading));
    const started = performance.now();
    const { dyes, cloths, lights, batches } = await fillBook(store, readings, READINGS);
    const filled = performance.now() - started;
    const list = (query: object) => store.read((db) => listReadings(db, readingFilter.parse(query)));
    const desk: Desk = {
      store,
      analyst: { read: async () => readings[0] },
      now: () => new Date('2026-06-02T08:00:00Z'),
    };
    const { strip, steps, marks } = readings[0];
    const described = {
      ...strip,
      card: 'white-grey-black' as const,
      steps: steps.map(({ seconds }) => ({ seconds })),
    };
    const rows = [
      line('list, newest 50', await times(ASKED, () => list({}))),
      line('list, the 100th page', await times(ASKED, (i) => list({ offset: 4950 + i }))),
      line(
        'filter by dye, cloth and light',
        await times(ASKED, (i) =>
          list({ dyeId: dyes[i % 8], clothId: cloths[i % 5], lightId: lights[i % 3] }),
        ),
      ),
      line('filter by batch', await times(ASKED, (i) => list({ batchId: batches[i % 60] }))),
      line(
        'filter by days',
        await times(ASKED, (i) =>
          list({ from: `2025-0${1 + (i % 9)}-01T00:00:00Z`, to: '2025-12-31T00:00:00Z' }),
        ),
      ),
      line(
        'filter by two words',
        await times(ASKED, (i) => list({ text: i % 2 ? 'festival dry' : 'dye 3 rinse' })),
      ),
      line(
        'what time today',
        await times(ASKED, (i) =>
          whatTimeToday(desk, {
            dyeId: dyes[i % 8],
            clothId: cloths[i % 5],
            lightId: lights[i % 3],
            target: i % 2 ? { kind: 'full' } : { kind: 'depth', percent: 70 },
            batchId: i % 3 ? null : batches[i % 60],
            cardId: null,
            lampHours: 1500,
            sky: null,
          }),
        ),
      ),
      line(
        'keep a reading (reading the photo left out)',
        await times(40, (i) =>
          keepReading(desk, {
            photo: new Uint8Array(3_500_000).fill(i),
            strip: described,
            marks,
            context: keepContext.parse({}),
          }),
        ),
      ),
    ];
    const bytes = statSync(join(folder, BOOK_FILE)).size;
    rows.push(...(await measureImport(folder, readings[0], desk)));
    const photo = (await renderTwelveMegapixels()).bytes.length;
    const thousand = (each: number): string => `${(each / 1e6).toFixed(each < 1e6 ? 3 : 2)} GB`;
    return {
      rows,
      size: [
        `1,000 readings with a photo of 12 megapixels each, rendered: ${thousand(photo + bytes / READINGS)}, of it ${thousand(photo)} photos (${(photo / 1e6).toFixed(1)} MB each) and ${thousand(bytes / READINGS)} rows.`,
        `${READINGS} readings take ${(bytes / 1e6).toFixed(0)} MB of database, ${(bytes / READINGS / 1000).toFixed(0)} kB each, photos apart; filled in ${(filled / 1000).toFixed(0)} s.`,
      ],
    };
  } finally {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
};
