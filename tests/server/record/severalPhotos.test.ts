import { createWriteStream, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptReading } from '../../../server/contracts/recordReadings.ts';
import { readArchive } from '../../../server/exchange/archiveRead.ts';
import { writeArchive } from '../../../server/exchange/archiveWrite.ts';
import { type Book, createBook } from '../../../server/record/book.ts';
import { keptReadingById, readAgain } from '../../../server/record/keepReading.ts';
import { countRows } from '../../../server/record/rows.ts';
import { checkStore } from '../../../server/store/checkStore.ts';
import { sha256Of } from '../../../server/store/photoFolder.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../../helpers/serverUnderTest.ts';

const hemp = demoFiles('hemp-banner-blue');
const folder = mkdtempSync(join(tmpdir(), 'tonestep-photos-'));
const books: Book[] = [];
const bookIn = (name: string): Book => {
  const book = createBook({ folder: join(folder, name), analyst: directAnalyst });
  books.push(book);
  return book;
};
let server: ReturnType<typeof serverUnderTest>;
let book: Book;
/** The same strip once more: other bytes, so another photo. */
let second: Uint8Array;
beforeAll(async () => {
  book = bookIn('first');
  server = serverUnderTest(directAnalyst, book);
  second = new Uint8Array(await sharp(hemp.photo).keepIccProfile().jpeg({ quality: 90 }).toBuffer());
});
afterAll(async () => {
  await Promise.all(books.map((one) => one.close()));
  rmSync(folder, { recursive: true, force: true });
});

const send = async (fields: Record<string, string | Uint8Array>, also: readonly Uint8Array[] = []) => {
  const form = formOf({ photo: hemp.photo, strip: hemp.strip, ...fields });
  for (const photo of also) form.append('also', new Blob([new Uint8Array(photo)]));
  const answer = await server.post('/api/record/readings', form);
  return { status: answer.status, body: await answer.json() };
};
const kept = async (...sent: Parameters<typeof send>) => {
  const { status, body } = await send(...sent);
  expect(body.error).toBeUndefined();
  expect(status).toBe(201);
  return keptReading.parse(body);
};
const bodyOf = async (of: Book, id: string) => {
  const { store } = await of.desk();
  return store.read((db) =>
    db.selectFrom('readingBodies').selectAll().where('readingId', '=', id).executeTakeFirstOrThrow(),
  );
};
const again = async (of: Book, id: string): Promise<void> => {
  const { line } = await readAgain(await of.desk(), id, { confirmed: true });
  expect(line.supersedesId).toBe(id);
  const [old, fresh] = [await bodyOf(of, id), await bodyOf(of, line.id)];
  expect(fresh.readingJson).toBe(old.readingJson);
  expect(fresh.settingsJson).toBe(old.settingsJson);
};

const both = { marks: hemp.marks, alsoMarks: `[${hemp.marks}]` };

describe('a reading from two photos', () => {
  it('keeps both photos, says how they agree, and is read again bit for bit', async () => {
    const { line, settings, reading } = await kept(both, [second]);
    expect(reading.repeatability?.photos).toBe(2);
    expect(reading.furtherPhotos).toHaveLength(1);
    expect(settings.also?.map((other) => other.photo)).toEqual([sha256Of(second)]);
    const photo = await server.get(`/api/record/photos/${sha256Of(second)}`);
    expect(new Uint8Array(await photo.arrayBuffer())).toEqual(second);
    await again(book, line.id);
    const desk = await book.desk();
    expect(await countRows(desk)).toMatchObject({ photos: 2 });
    expect(await checkStore(desk.store)).toMatchObject({ sound: true, photos: 2, lost: [] });
  });

  it('differs from the reading of the first photo alone', async () => {
    const one = await kept({ marks: hemp.marks });
    const two = await kept(both, [second]);
    expect(one.reading.repeatability).toBeNull();
    expect(two.reading.steps.map((step) => step.L)).not.toEqual(one.reading.steps.map((step) => step.L));
  });

  it('sent twice under one id is kept once; with another second photo it is a conflict', async () => {
    const context = JSON.stringify({ id: crypto.randomUUID() });
    const one = await send({ ...both, context }, [second]);
    expect((await send({ ...both, context }, [second])).body).toEqual(one.body);
    expect(await send({ marks: hemp.marks, context })).toMatchObject({
      status: 409,
      body: { error: { code: 'book-conflict' } },
    });
  });

  it('refuses 9 photos, and marks for another number of photos than were sent', async () => {
    const many = await send({ marks: hemp.marks }, Array(8).fill(second));
    expect(many).toMatchObject({ status: 400, body: { error: { code: 'request-invalid' } } });
    expect(many.body.error.message).toMatch(/up to 8 photos; 9/);
    expect((await send({ ...both, alsoMarks: '[]' }, [second])).status).toBe(400);
  });
});

it('keeps the points that a person tapped, and looks there again bit for bit', async () => {
  const { card, steps } = JSON.parse(hemp.marks);
  const middle = (quad: number[][]) => [0, 1].map((i) => (quad[0][i] + quad[2][i]) / 2);
  const taps = { card: middle(card[0].quad), strip: middle(steps[2].quad) };
  const { line, settings } = await kept({
    taps: JSON.stringify(taps),
    context: JSON.stringify({ confirmed: true }),
  });
  expect(settings).toMatchObject({ taps, marks: null });
  await again(book, line.id);
});

describe('a strip fitted together with a kept one', () => {
  it('has the points of both in its curve and is read again bit for bit', async () => {
    const first = await kept({ marks: hemp.marks });
    const context = JSON.stringify({ withIds: [first.line.id] });
    const { line, settings, reading } = await kept({ marks: hemp.marks, context });
    const points = (outcome: typeof reading.curve) =>
      outcome.kind === 'fitted' ? outcome.curve.points.length : 0;
    expect(points(reading.curve)).toBe(2 * points(first.reading.curve));
    expect(settings.earlier?.map((earlier) => earlier.photo)).toEqual([sha256Of(hemp.photo)]);
    await again(book, line.id);
  });

  it('is refused where the other is of another dye', async () => {
    const first = await kept({ marks: hemp.marks });
    const strip = JSON.stringify({ ...JSON.parse(hemp.strip), dye: 'light-set plum' });
    const context = JSON.stringify({ withIds: [first.line.id] });
    expect(await send({ strip, marks: hemp.marks, context })).toMatchObject({
      status: 409,
      body: { error: { code: 'book-conflict' } },
    });
  });
});

it('goes through an archive whole: two photos, taps and strips fitted together are read again bit for bit there', async () => {
  const { store } = await book.desk();
  const path = join(folder, 'book.zip');
  const { bytes, made } = writeArchive(store);
  await Promise.all([made, pipeline(bytes, createWriteStream(path))]);
  const other = bookIn('second');
  const desk = await other.desk();
  await readArchive(desk.store, path);
  expect(await checkStore(desk.store)).toMatchObject({ sound: true, photos: 2, lost: [] });
  const rows = await store.read((db) => db.selectFrom('readingBodies').selectAll().execute());
  const told = ['"also"', '"taps"', '"earlier"'].map(
    (word) => rows.find((row) => row.settingsJson.includes(word))?.readingId ?? '',
  );
  for (const id of told) {
    expect((await keptReadingById(desk, id)).settings).toEqual(
      (await keptReadingById(await book.desk(), id)).settings,
    );
    await again(other, id);
  }
});
