import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { keepContext, readingFilter } from '../../../server/contracts/recordReadings.ts';
import { controlFields, printFields, today } from '../../../server/contracts/recordUse.ts';
import { type Book, createBook } from '../../../server/record/book.ts';
import type { Desk } from '../../../server/record/bookDesk.ts';
import { keepControl, listControls } from '../../../server/record/controls.ts';
import { feedbackOf } from '../../../server/record/feedback.ts';
import { keepReading, readAgain } from '../../../server/record/keepReading.ts';
import { keepPrint, listPrints } from '../../../server/record/prints.ts';
import { listReadings } from '../../../server/record/readingRows.ts';
import { countRows, listNotes, setPutAway, writeNote } from '../../../server/record/rows.ts';
import { changeThing, listThings, makeThing } from '../../../server/record/things.ts';
import { whatTimeToday } from '../../../server/record/today.ts';
import { checkStore } from '../../../server/store/checkStore.ts';
import { noPostgres, type PostgresServer, startPostgres } from '../../helpers/postgresServer.ts';
import { demoFiles, directAnalyst } from '../../helpers/serverUnderTest.ts';

const hemp = demoFiles('hemp-banner-blue');
const strip = JSON.parse(hemp.strip);
const marks = parseMarks(JSON.parse(hemp.marks));

describe.skipIf(noPostgres !== null)(
  `the record on PostgreSQL${noPostgres ? `, skipped: ${noPostgres}` : ''}`,
  () => {
    let folder = '';
    let server: PostgresServer;
    let book: Book;
    let desk: Desk;
    beforeAll(async () => {
      folder = mkdtempSync(join(tmpdir(), 'tonestep-pgbook-'));
      server = startPostgres();
      const reading = await directAnalyst.read({
        kind: 'read',
        photo: hemp.photo,
        strip: parseStrip(strip),
        marks,
      });
      book = createBook({
        folder,
        databaseUrl: await server.makeDatabase(),
        analyst: { read: async () => reading },
      });
      desk = await book.desk();
    }, 90_000);
    afterAll(async () => {
      await book?.close();
      server?.stop();
      rmSync(folder, { recursive: true, force: true });
    });

    const keep = (context: object = {}) =>
      keepReading(desk, { photo: hemp.photo, strip, marks, context: keepContext.parse(context) });
    const list = (query: object) => desk.store.read((db) => listReadings(db, readingFilter.parse(query)));

    it('keeps, lists, filters by words and days, reads again, puts away and brings back', async () => {
      const one = await keep({ remark: 'First, 100 % cotton_thread', lampHours: 12.5 });
      const two = await keep({ remark: 'second' });
      expect((await list({})).total).toBe(2);
      expect((await list({ text: '100 % first' })).readings.map((r) => r.id)).toEqual([one.line.id]);
      expect((await list({ text: '1_0' })).total).toBe(0);
      expect((await list({ to: '2020-01-01T00:00:00Z' })).total).toBe(0);
      expect(one.line).toMatchObject({ lampHours: 12.5, confirmed: true, relative: false });
      const again = await readAgain(desk, two.line.id, { confirmed: false });
      expect(JSON.stringify(again.reading)).toBe(JSON.stringify(two.reading));
      expect((await list({})).total).toBe(2);
      expect((await list({ superseded: 'true' })).total).toBe(3);
      await setPutAway(desk, { kind: 'reading', id: again.line.id }, true);
      expect((await list({})).readings.map((r) => r.id)).toContain(two.line.id);
      await setPutAway(desk, { kind: 'reading', id: again.line.id }, false);
    });

    it('answers what time today, moved by a control scrap, and shows the bias of prints', async () => {
      const { line } = await keep();
      const use = { dyeId: line.dyeId, clothId: line.clothId, lightId: line.lightId };
      const control = await keepControl(
        desk,
        controlFields.parse({ readingId: line.id, againstId: line.id }),
      );
      expect(control.shiftStops.value).toBeCloseTo(0, 1);
      const answer = today.parse(
        await whatTimeToday(desk, { ...use, batchId: null, cardId: null, lampHours: null, sky: null }),
      );
      expect(answer).toMatchObject({ kind: 'time', moved: { by: 'control', controlIds: [control.id] } });
      for (const reachedL of [50, 50.5, 49.5])
        await keepPrint(desk, printFields.parse({ ...use, secondsUsed: 120, reachedL }));
      expect((await feedbackOf(desk, use)).prints).toHaveLength(3);
      const query = { away: false, limit: 50, offset: 0 };
      expect((await listPrints(desk, query)).total).toBe(3);
      expect((await listControls(desk, query)).total).toBe(1);
    });

    it('makes, changes and lists things, takes notes, counts, and finds every photo', async () => {
      const card = await makeThing(desk, 'cards', { name: 'Old', card: 'grey-18', remark: '' });
      await changeThing(desk, 'cards', card.id, { remark: 'faded' });
      expect((await listThings(desk, 'cards', { away: false, limit: 5, offset: 0 })).rows).toMatchObject([
        { name: 'Old', card: 'grey-18', remark: 'faded' },
      ]);
      await expect(
        makeThing(desk, 'cards', { name: 'OLD', card: 'grey-18', remark: '' }),
      ).rejects.toMatchObject({ code: 'book-conflict' });
      await writeNote(desk, { on: { kind: 'card', id: card.id }, text: 'ü 漢 🌊' });
      expect(await listNotes(desk, { kind: 'card', id: card.id, away: false })).toMatchObject([
        { text: 'ü 漢 🌊' },
      ]);
      expect(await countRows(desk)).toMatchObject({
        database: 'postgresql',
        counts: { reading: 4, card: 1, note: 1 },
        photos: 1,
        photoBytes: hemp.photo.byteLength,
      });
      expect(await checkStore(desk.store)).toEqual({ sound: true, photos: 1, lost: [], spare: 0 });
    });
  },
);
