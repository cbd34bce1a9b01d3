import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import type { Reading } from '../../../server/contracts/reading.ts';
import { readingRows } from '../../../server/exchange/archiveRows.ts';
import { nameKey } from '../../../server/record/nameKey.ts';
import { openStore, type Store } from '../../../server/store/openStore.ts';
import { settingsOf } from '../../helpers/settingsOf.ts';
import { demoReading } from './demoReading.ts';

/** A folder for one test file, gone afterwards, and stores in it that are closed before. */
export const bookRoom = () => {
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-archive-'));
  const open: Store[] = [];
  afterAll(async () => {
    for (const store of open) await store.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return {
    path: (name: string) => join(folder, name),
    async book(name: string): Promise<Store> {
      const store = await openStore({ folder: join(folder, name) });
      open.push(store);
      return store;
    },
  };
};

const at = (day: number) => `2026-05-${String(day).padStart(2, '0')}T09:30:00.000Z`;
/** An id that is the same in every run. */
export const idOf = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;

const row = (n: number, day = 3) => ({
  id: idOf(n),
  createdAt: at(day),
  changedAt: at(day),
  putAwayAt: null,
});
const named = (n: number, name: string, remark = '') => ({
  ...row(n),
  name,
  nameKey: nameKey(name),
  remark,
});

export const hemp = await demoReading('hemp-banner-blue');
export const silk = await demoReading('silk-scarf-plum');

/** A workshop's book with a row of every kind: two readings, one of them read again, a control, a print, notes. */
export const fillBook = async (store: Store): Promise<void> => {
  const photos = [await store.photos.keep(hemp.photo), await store.photos.keep(silk.photo)];
  const line = (
    n: number,
    reading: Reading,
    photo: string,
    changes: { supersedesId?: string; remark?: string } = {},
  ) =>
    readingRows(
      {
        ...row(n),
        purpose: 'calibration',
        dyeId: idOf(1),
        clothId: idOf(2),
        lightId: idOf(3),
        batchId: idOf(4),
        lampHours: 120.5,
        sky: null,
        exposedAt: at(2),
        cardId: idOf(5),
        planId: idOf(6),
        photo,
        readAt: at(3),
        supersedesId: changes.supersedesId ?? null,
        confirmed: true,
        remark: changes.remark ?? '',
        body: '0'.repeat(64),
      },
      {
        settings: settingsOf(reading),
        // biome-ignore lint/suspicious/noExplicitAny: a whole reading is more than what the archive fixes
        reading: reading as any,
      },
    );
  await store.write(async (db) => {
    await db
      .insertInto('dyes')
      .values(named(1, 'light-set blue', 'third vat,\n"deep"'))
      .execute();
    await db
      .insertInto('dyes')
      .values(named(11, '藍 = Añil', '=1+1'))
      .execute();
    await db.insertInto('cloths').values(named(2, 'hemp for the harbour banners')).execute();
    await db
      .insertInto('lights')
      .values({
        ...named(3, 'blacklight tubes, 30 cm'),
        kind: 'lamps',
        distanceCm: 30,
        glass: '4 mm float',
        lampHours: 121,
      })
      .execute();
    await db
      .insertInto('batches')
      .values({ ...named(4, 'batch of May'), dyeId: idOf(1), mixedAt: at(1) })
      .execute();
    await db
      .insertInto('cards')
      .values({ ...named(5, 'card of the shop'), cardJson: '"white-grey-black"' })
      .execute();
    await db
      .insertInto('plans')
      .values({
        ...row(6),
        name: 'first strip',
        remark: '',
        dyeId: idOf(1),
        clothId: idOf(2),
        lightId: null,
        secondsJson: '[0,60,105,180,320,560,1000]',
        planJson: '{"kind":"equal-stop","steps":[]}',
      })
      .execute();
    for (const [i, { reading, photo }] of [hemp, silk].entries())
      await db
        .insertInto('photos')
        .values({
          sha256: photos[i],
          bytes: photo.byteLength,
          format: 'jpeg',
          widthPx: reading.photo.widthPx,
          heightPx: reading.photo.heightPx,
          createdAt: at(3),
        })
        .execute();
    const readings = [
      // Read again: the younger has the smaller id, so that order of ids is not order of making.
      line(90, hemp.reading, photos[0], { remark: 'banner of the east pier' }),
      line(7, hemp.reading, photos[0], { supersedesId: idOf(90) }),
      line(8, silk.reading, photos[1]),
    ];
    for (const { line: values, body } of readings) {
      await db.insertInto('readings').values(values).execute();
      await db.insertInto('readingBodies').values(body).execute();
    }
    const used = {
      dyeId: idOf(1),
      clothId: idOf(2),
      lightId: idOf(3),
      batchId: null,
      lampHours: 125,
      sky: null,
      exposedAt: at(9),
      remark: '',
    };
    await db
      .insertInto('controls')
      .values({
        ...row(20, 9),
        ...used,
        againstId: idOf(90),
        readingId: null,
        scrapsJson: '[{"seconds":105,"L":48.2,"uL":0.4}]',
        setup: 'tubes of January',
        shiftStops: -0.1,
        shiftLow: -0.16,
        shiftHigh: -0.04,
        sentence: 'The light works 0.10 stop slower.',
      })
      .execute();
    await db
      .insertInto('prints')
      .values({
        ...row(21, 10),
        ...used,
        name: 'banner 3',
        secondsUsed: 245,
        targetJson: '{"kind":"depth","percent":80}',
        calibrationId: idOf(90),
        movedStops: -0.1,
        predictedL: 40.3,
        predictedDepthPercent: 80,
        reachedL: 41,
        reachedUL: 0.5,
        reachedDepthPercent: 78.2,
        readingId: null,
        missedStops: -0.06,
      })
      .execute();
    await db
      .insertInto('notes')
      .values({ ...row(30, 11), onKind: 'reading', onId: idOf(90), text: 'dried in the wind' })
      .execute();
  });
};
