import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Analyst } from '../../../server/analyst.ts';
import { keptReading, readingList } from '../../../server/contracts/recordReadings.ts';
import { bookAnswer } from '../../../server/contracts/recordUse.ts';
import type { Book } from '../../../server/record/book.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../../helpers/serverUnderTest.ts';
import { temporaryBook } from '../../helpers/temporaryBook.ts';

const hemp = demoFiles('hemp-banner-blue');
const json = async (answer: Response) => ({ status: answer.status, body: await answer.json() });
const JSON_TYPE = { 'content-type': 'application/json' };

let clock = Date.parse('2026-06-01T08:00:00Z');
/** Readings counted, and of any confidence wanted. */
let confidence: number | null = null;
let read = 0;
const analyst: Analyst = {
  ...directAnalyst,
  read: async (task) => {
    read += 1;
    const reading = await directAnalyst.read(task);
    if (confidence === null) return reading;
    const doubtful = { origin: 'free-form' as const, confidence };
    return {
      ...reading,
      marks: { ...reading.marks, steps: reading.marks.steps.map((m) => ({ ...m, ...doubtful })) },
    };
  },
};
let book: Book;
let server: ReturnType<typeof serverUnderTest>;
beforeAll(() => {
  book = temporaryBook(analyst, () => new Date(clock));
  server = serverUnderTest(analyst, book);
});
afterAll(() => book.close());

const post = async (path: string, body: unknown) =>
  json(await server.post(path, JSON.stringify(body), JSON_TYPE));
const get = async (path: string) => json(await server.get(path));
const keep = async (context: object = {}, fields: Record<string, string | Uint8Array> = {}) =>
  json(
    await server.post(
      '/api/record/readings',
      formOf({
        photo: hemp.photo,
        strip: hemp.strip,
        marks: hemp.marks,
        context: JSON.stringify(context),
        ...fields,
      }),
    ),
  );

describe('a reading that is kept', () => {
  it('comes back whole: line, settings, reading and photo', async () => {
    const { status, body } = await keep({ remark: 'first of the season', lampHours: 120 });
    expect(status).toBe(201);
    const kept = keptReading.parse(body);
    const strip = JSON.parse(hemp.strip);
    expect(kept.line).toMatchObject({
      dye: strip.dye,
      cloth: strip.cloth,
      light: strip.light,
      purpose: 'calibration',
      lampHours: 120,
      exposedAt: '2026-06-01T08:00:00.000Z',
      readAt: '2026-06-01T08:00:00.000Z',
      confirmed: true,
      remark: 'first of the season',
      supersedesId: null,
      supersededById: null,
    });
    expect(kept.reading.steps).toHaveLength(strip.steps.length);
    expect(await get(`/api/record/readings/${kept.line.id}`)).toEqual({ status: 200, body });
    const photo = await server.get(kept.photoHref);
    expect(photo.headers.get('content-type')).toBe('image/jpeg');
    expect(new Uint8Array(await photo.arrayBuffer())).toEqual(hemp.photo);
  });

  it('is read again bit for bit, as a new reading that stands in for the old one', async () => {
    const first = keptReading.parse((await keep()).body);
    clock += 3_600_000;
    const again = await post(`/api/record/readings/${first.line.id}/again`, {});
    expect(again.status).toBe(201);
    const second = keptReading.parse(again.body);
    const desk = await book.desk();
    const texts = await desk.store.read((db) =>
      db
        .selectFrom('readingBodies')
        .select('readingJson')
        .where('readingId', 'in', [first.line.id, second.line.id])
        .execute(),
    );
    expect(texts).toHaveLength(2);
    expect(texts[0].readingJson).toBe(texts[1].readingJson);
    expect(second.line.supersedesId).toBe(first.line.id);
    expect(second.line.exposedAt).toBe(first.line.exposedAt);
    const old = await get(`/api/record/readings/${first.line.id}`);
    expect(old.body.line.supersededById).toBe(second.line.id);
    expect(old.body.reading).toEqual(first.reading);
  });

  it('sent twice under one id is kept once, and read once', async () => {
    const id = crypto.randomUUID();
    const one = await keep({ id });
    const before = read;
    const two = await keep({ id });
    expect(two.body).toEqual(one.body);
    expect(read).toBe(before);
    const other = await keep({ id }, { photo: demoFiles('silk-scarf-plum').photo });
    expect(other).toMatchObject({ status: 409, body: { error: { code: 'book-conflict' } } });
  });

  it('finds dye, cloth and light by name whatever their case, and does not make them twice', async () => {
    const strip = { ...JSON.parse(hemp.strip), dye: `  ${JSON.parse(hemp.strip).dye.toUpperCase()} ` };
    await keep({}, { strip: JSON.stringify(strip) });
    expect((await get('/api/record/dyes')).body.total).toBe(1);
    expect((await get('/api/record/cloths')).body.total).toBe(1);
    expect((await get('/api/record/lights')).body.lights[0]).toMatchObject({ kind: 'lamps', lampHours: 120 });
  });

  it('counts one photo however often it was kept', async () => {
    const { body } = await get('/api/record');
    expect(bookAnswer.parse(body)).toMatchObject({ database: 'sqlite', photos: 1, counts: { dye: 1 } });
    expect(body.photoBytes).toBe(hemp.photo.byteLength);
  });
});

describe('a reading that is refused', () => {
  const total = async () => (await get('/api/record')).body.counts.reading;

  it('with marks of confidence 0.4 waits for "confirmed", and is kept with it', async () => {
    confidence = 0.4;
    const before = await total();
    expect(await keep()).toMatchObject({ status: 409, body: { error: { code: 'marks-unconfirmed' } } });
    expect(await total()).toBe(before);
    const { status, body } = await keep({ confirmed: true });
    expect(status).toBe(201);
    expect(body.line).toMatchObject({ confirmed: true, marksConfidence: 0.4 });
    confidence = null;
  });

  it.each([
    ['no dye', { dye: ' ' }, 400, 'book-incomplete', /dye/],
    ['no cloth and no light', { cloth: '', light: '' }, 400, 'book-incomplete', /cloth, light/],
    ['an unknown card', { card: 'paper' }, 400, 'card-invalid', /paper/],
    ['a dye with an escape character', { dye: 'blue\u001b[31m' }, 400, 'strip-invalid', /dye/],
  ])('with %s says so', async (_, change, status, code, message) => {
    const before = await total();
    const strip = JSON.stringify({ ...JSON.parse(hemp.strip), ...change });
    const refused = await keep({}, { strip });
    expect(refused).toMatchObject({ status, body: { error: { code } } });
    expect(refused.body.error.message).toMatch(message);
    expect(await total()).toBe(before);
  });

  it.each([
    ['a day to come', { exposedAt: '2031-01-01T00:00:00Z' }, 400, 'request-invalid'],
    ['a batch that is not there', { batchId: crypto.randomUUID() }, 404, 'not-found'],
    ['lamp hours below 0', { lampHours: -1 }, 400, 'request-invalid'],
    ['a remark with a NUL', { remark: 'half\0lost' }, 400, 'request-invalid'],
  ])('with %s says so', async (_, context, status, code) => {
    const before = await total();
    expect(await keep(context)).toMatchObject({ status, body: { error: { code } } });
    expect(await total()).toBe(before);
  });

  it('whose photo is gone from the folder says what to bring back, and the reading still shows', async () => {
    const kept = (await keep()).body;
    const { store } = await book.desk();
    const path = store.photos.pathOf(kept.line.photo);
    rmSync(path);
    expect(await post(`/api/record/readings/${kept.line.id}/again`, {})).toMatchObject({
      status: 410,
      body: { error: { code: 'photo-lost' } },
    });
    expect((await get(`/api/record/readings/${kept.line.id}`)).status).toBe(200);
    await keep();
    expect((await server.get(kept.photoHref)).status).toBe(200);
  });
});

describe('the list of readings', () => {
  const list = async (query: string) => readingList.parse((await get(`/api/record/readings?${query}`)).body);

  it('shows the newest exposure first, and neither those put away nor those superseded', async () => {
    const all = await list('away=true&superseded=true&limit=500');
    const shown = await list('limit=500');
    expect(shown.total).toBe(all.total - 1);
    const days = shown.readings.map((r) => r.exposedAt);
    expect(days).toEqual([...days].sort().reverse());
    const [first] = shown.readings;
    expect((await post('/api/record/put-away', { kind: 'reading', id: first.id })).status).toBe(200);
    expect((await list('limit=500')).readings.map((r) => r.id)).not.toContain(first.id);
    expect((await list('limit=500&away=true')).readings.map((r) => r.id)).toContain(first.id);
    await post('/api/record/bring-back', { kind: 'reading', id: first.id });
    expect((await list('limit=500')).readings.map((r) => r.id)).toContain(first.id);
  });

  it('shows the old reading again when the one that stood in for it is put away', async () => {
    const superseding = (await list('superseded=true&limit=500')).readings.find((r) => r.supersedesId)!;
    const old = superseding.supersedesId;
    expect((await list('limit=500')).readings.map((r) => r.id)).not.toContain(old);
    await post('/api/record/put-away', { kind: 'reading', id: superseding.id });
    expect((await list('limit=500')).readings.map((r) => r.id)).toContain(old);
    await post('/api/record/bring-back', { kind: 'reading', id: superseding.id });
  });

  it('shows one reading of a chain of three, the last, when the one in the middle is put away', async () => {
    const first = (await keep({ remark: 'chain' })).body.line.id;
    const again = async (id: string) => (await post(`/api/record/readings/${id}/again`, {})).body.line.id;
    const middle = await again(first);
    const last = await again(middle);
    const chain = async () => (await list('text=chain&limit=500')).readings.map((r) => r.id);
    const later = async (id: string) => (await get(`/api/record/readings/${id}`)).body.line.supersededById;
    const { dyeId, clothId, lightId } = (await get(`/api/record/readings/${first}`)).body.line;
    const today = async () =>
      (await post('/api/record/today', { dyeId, clothId, lightId })).body.basis.ofHowMany;
    expect(await chain()).toEqual([last]);
    const standing = await today();
    await post('/api/record/put-away', { kind: 'reading', id: middle });
    expect(await chain()).toEqual([last]);
    expect(await later(first)).toBe(last);
    expect(await today()).toBe(standing);
    await post('/api/record/put-away', { kind: 'reading', id: last });
    expect(await chain()).toEqual([first]);
    expect(await later(first)).toBeNull();
    await post('/api/record/bring-back', { kind: 'reading', id: middle });
    expect(await chain()).toEqual([middle]);
    expect(await later(first)).toBe(middle);
    await post('/api/record/put-away', { kind: 'reading', id: middle });
    await post('/api/record/put-away', { kind: 'reading', id: first });
  });

  it('finds by words in names and remark, in any order and case', async () => {
    expect((await list('text=SEASON%20first')).total).toBe(1);
    expect((await list('text=season%20madder')).total).toBe(0);
    expect((await list('text=%25')).total).toBe(0);
  });

  it('pages without overlap', async () => {
    const one = await list('limit=2');
    const two = await list('limit=2&offset=2');
    expect(one.total).toBe(two.total);
    expect(new Set([...one.readings, ...two.readings].map((r) => r.id)).size).toBe(4);
  });

  it('filters by day: from is in, to is out', async () => {
    const from = await list('from=2026-06-01T09:00:00Z&limit=500');
    const to = await list('to=2026-06-01T09:00:00Z&limit=500');
    expect(from.readings.every((r) => r.exposedAt >= '2026-06-01T09:00:00.000Z')).toBe(true);
    expect(to.readings.every((r) => r.exposedAt < '2026-06-01T09:00:00.000Z')).toBe(true);
    expect(from.total + to.total).toBe((await list('limit=1')).total);
    expect(from.total).toBeGreaterThan(0);
    expect(to.total).toBeGreaterThan(0);
  });

  it('refuses a limit of 501 and an id that is none', async () => {
    expect((await get('/api/record/readings?limit=501')).status).toBe(400);
    expect((await get('/api/record/readings?dyeId=hemp')).status).toBe(400);
    expect((await get('/api/record/readings/hemp')).status).toBe(400);
    expect((await get(`/api/record/readings/${crypto.randomUUID()}`)).status).toBe(404);
  });
});

describe('things of the book', () => {
  it('are made, changed in what is sent only, put away and brought back', async () => {
    const made = await post('/api/record/lights', {
      name: 'Tubes, north bench',
      kind: 'lamps',
      distanceCm: 20,
      glass: 'float 4 mm',
    });
    expect(made.status).toBe(201);
    const patched = await json(
      await server.app.request(`http://localhost:4747/api/record/lights/${made.body.id}`, {
        method: 'PATCH',
        body: JSON.stringify({ lampHours: 300 }),
        headers: { ...JSON_TYPE, host: 'localhost:4747', origin: 'http://localhost:4747' },
      }),
    );
    expect(patched.body).toMatchObject({
      name: 'Tubes, north bench',
      distanceCm: 20,
      glass: 'float 4 mm',
      lampHours: 300,
    });
    expect(await post('/api/record/lights', { name: 'tubes,  NORTH bench', kind: 'sun' })).toMatchObject({
      status: 409,
      body: { error: { code: 'book-conflict' } },
    });
    await post('/api/record/put-away', { kind: 'light', id: made.body.id });
    const names = async (query: string) =>
      (await get(`/api/record/lights?${query}`)).body.lights.map((l: { name: string }) => l.name);
    expect(await names('')).not.toContain('Tubes, north bench');
    expect(await names('away=true')).toContain('Tubes, north bench');
  });

  it('keep batches, cards and plans with what they are made of', async () => {
    const batch = await post('/api/record/batches', { name: 'A17', mixedAt: '2026-05-20T00:00:00Z' });
    expect(batch.body).toMatchObject({ name: 'A17', mixedAt: '2026-05-20T00:00:00.000Z', dyeId: null });
    const patches = [{ name: 'paper', Y: 0.85 }];
    const card = await post('/api/record/cards', { name: 'Old card', card: { patches } });
    expect(card.body.card).toEqual({ patches });
    const plan = await post('/api/record/plans', {
      name: 'Wide',
      seconds: [0, 30, 60],
      plan: { reason: 'Nothing known yet' },
    });
    expect(plan.body).toMatchObject({ seconds: [0, 30, 60], plan: { reason: 'Nothing known yet' } });
    expect(
      (await keep({ batchId: batch.body.id, cardId: card.body.id, planId: plan.body.id })).body.line,
    ).toMatchObject({ batch: 'A17', cardId: card.body.id, planId: plan.body.id });
  });

  it('take notes, oldest first', async () => {
    const [{ id }] = (await get('/api/record/dyes')).body.dyes;
    await post('/api/record/notes', { on: { kind: 'dye', id }, text: 'Keeps two weeks.\nCold.' });
    clock += 1000;
    await post('/api/record/notes', { on: { kind: 'dye', id }, text: 'New jar.' });
    const { notes } = (await get(`/api/record/notes?kind=dye&id=${id}`)).body;
    expect(notes.map((n: { text: string }) => n.text)).toEqual(['Keeps two weeks.\nCold.', 'New jar.']);
    expect((await post('/api/record/notes', { on: { kind: 'print', id }, text: 'lost' })).status).toBe(404);
  });
});

it('tells no one on the network, and only in short on this machine, where the book lies', async () => {
  const { body } = await get('/api/record');
  expect(body.place).toMatch(/^…\/tonestep-book-/);
  expect(JSON.stringify(body)).not.toContain(book.folder);
  expect((await get('/api/health')).body).toMatchObject({ status: 'ok', version: '0.0.0-test' });
});

it('leaves nothing half-written in the photos folder', () => {
  expect(readdirSync(join(book.folder, 'photos', 'incoming'))).toEqual([]);
});
