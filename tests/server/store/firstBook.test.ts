import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readingFilter } from '../../../server/contracts/recordReadings.ts';
import { performRead } from '../../../server/perform.ts';
import { type Book, createBook } from '../../../server/record/book.ts';
import { keptReadingById, readAgain } from '../../../server/record/keepReading.ts';
import { listReadings } from '../../../server/record/readingRows.ts';
import { countRows } from '../../../server/record/rows.ts';
import { whatTimeToday } from '../../../server/record/today.ts';
import { checkStore } from '../../../server/store/checkStore.ts';

/** A book as the first schema wrote it (tests/helpers/makeFirstBook.ts), opened by the newest. */
let folder = '';
let book: Book;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-first-'));
  cpSync(join(import.meta.dirname, 'books/001-first'), folder, { recursive: true });
  book = createBook({ folder, analyst: { read: performRead }, now: () => new Date('2026-06-02T08:00:00Z') });
});
afterAll(async () => {
  await book.close();
  rmSync(folder, { recursive: true, force: true });
});

it('opens with all that was in it: 2 readings, 1 control scrap, 1 print, 1 note, 1 photo, and is sound', async () => {
  const desk = await book.desk();
  expect(await countRows(desk)).toMatchObject({
    counts: {
      dye: 1,
      cloth: 1,
      light: 1,
      batch: 1,
      card: 1,
      plan: 1,
      reading: 2,
      control: 1,
      print: 1,
      note: 1,
    },
    photos: 1,
  });
  expect(await checkStore(desk.store)).toEqual({ sound: true, photos: 1, lost: [], spare: 0 });
});

it('lists the reading that stands, with its batch, and shows the one that it stands in for', async () => {
  const desk = await book.desk();
  const { readings } = await desk.store.read((db) => listReadings(db, readingFilter.parse({})));
  expect(readings).toHaveLength(1);
  expect(readings[0]).toMatchObject({
    batch: 'May mix',
    lampHours: 120,
    remark: 'first of the season',
    exposedAt: '2026-06-01T08:06:00.000Z',
  });
  const old = await keptReadingById(desk, readings[0].supersedesId!);
  expect(old.line.supersededById).toBe(readings[0].id);
  expect(old.reading.steps).toHaveLength(7);
});

it('answers what time today from it, moved by its control scrap', async () => {
  const desk = await book.desk();
  const [line] = (await desk.store.read((db) => listReadings(db, readingFilter.parse({})))).readings;
  const { dyeId, clothId, lightId, batchId } = line;
  const answer = await whatTimeToday(desk, {
    dyeId,
    clothId,
    lightId,
    batchId,
    cardId: null,
    lampHours: 131,
    sky: null,
    target: { kind: 'depth', percent: 60 },
  });
  expect(answer).toMatchObject({ kind: 'time', moved: { by: 'control' } });
});

it('reads its photo again', async () => {
  const desk = await book.desk();
  const [line] = (await desk.store.read((db) => listReadings(db, readingFilter.parse({})))).readings;
  const again = await readAgain(desk, line.id, { confirmed: false });
  expect(again.line.supersedesId).toBe(line.id);
  expect(again.reading.steps).toHaveLength(7);
});
