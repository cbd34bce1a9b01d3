import { randomUUID } from 'node:crypto';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Reading } from '../../analysis/reading.ts';
import { nameKey } from '../../server/record/nameKey.ts';
import { summaryOf } from '../../server/record/readingRows.ts';
import { drawsJsonOf } from '../../server/record/recordedCurve.ts';
import type { Store } from '../../server/store/openStore.ts';
import type { ReadingRow, Tables } from '../../server/store/schema.ts';
import { settingsOf } from './settingsOf.ts';

export interface FilledBook {
  readonly dyes: readonly string[];
  readonly cloths: readonly string[];
  readonly lights: readonly string[];
  readonly batches: readonly string[];
}

const WORDS = [
  'harbour',
  'seaweed',
  'banner',
  'scarf',
  'festival',
  'rinse',
  'humid',
  'dry',
  'north',
  'glass',
];

/**
 * Fills a book with readings of three years, of eight dyes on five cloths under three lights, and a control scrap for
 * every tenth. Each row has the size of a real one: the readings given are used in turn.
 */
export const fillBook = async (
  store: Store,
  readings: readonly Reading[],
  count: number,
  seed = 1,
): Promise<FilledBook> => {
  const random = xoroshiro128plus(seed);
  const upTo = (most: number): number => uniformInt(random, 0, most);
  const pick = <T>(from: readonly T[]): T => from[upTo(from.length - 1)];
  const at = '2026-06-01T08:00:00.000Z';
  const named = (name: string) => ({
    id: randomUUID(),
    createdAt: at,
    changedAt: at,
    putAwayAt: null,
    remark: '',
    name,
    nameKey: nameKey(name),
  });
  const dyes = Array.from({ length: 8 }, (_, i) => named(`Dye ${i + 1}`));
  const cloths = Array.from({ length: 5 }, (_, i) => named(`Cloth ${i + 1}`));
  const lights = Array.from({ length: 3 }, (_, i) => ({
    ...named(`Light ${i + 1}`),
    kind: 'lamps' as const,
    distanceCm: 20 + i,
    glass: '',
    lampHours: 1500,
  }));
  const batches = Array.from({ length: 60 }, (_, i) => ({
    ...named(`Batch ${i + 1}`),
    dyeId: dyes[i % 8].id,
    mixedAt: new Date(Date.parse('2023-06-01T00:00:00Z') + i * 18 * 86_400_000).toISOString(),
  }));
  await store.write(async (db) => {
    await db.insertInto('dyes').values(dyes).execute();
    await db.insertInto('cloths').values(cloths).execute();
    await db.insertInto('lights').values(lights).execute();
    await db.insertInto('batches').values(batches).execute();
  });
  const templates = readings.map((reading) => ({
    reading,
    readingJson: JSON.stringify(reading),
    drawsJson: drawsJsonOf(reading),
  }));
  const oneWrite = 250;
  for (let done = 0; done < count; done += oneWrite)
    await store.write(async (db) => {
      for (let i = done; i < Math.min(count, done + oneWrite); i++) {
        const { reading, readingJson, drawsJson } = templates[i % templates.length];
        const id = randomUUID();
        const sha256 = i.toString(16).padStart(64, '0');
        const day =
          Date.parse('2023-06-01T08:00:00Z') + Math.floor(uniformFloat64(random) * 1095 * 86_400_000);
        const exposedAt = new Date(day).toISOString();
        const use = {
          dyeId: pick(dyes).id,
          clothId: pick(cloths).id,
          lightId: pick(lights).id,
          batchId: pick(batches).id,
          lampHours: upTo(1500),
          sky: null,
          exposedAt,
        };
        const remark = `${pick(WORDS)} ${pick(WORDS)} ${i}`;
        const shared = { createdAt: exposedAt, changedAt: exposedAt, putAwayAt: null };
        await db
          .insertInto('photos')
          .values({
            sha256,
            bytes: 3_500_000,
            format: 'jpeg',
            widthPx: 4000,
            heightPx: 3000,
            createdAt: exposedAt,
          })
          .execute();
        const row: ReadingRow = {
          ...shared,
          id,
          ...use,
          purpose: 'calibration',
          cardId: null,
          planId: null,
          photo: sha256,
          readAt: exposedAt,
          supersedesId: null,
          confirmed: 1,
          cardKey: '"white-grey-black"',
          ...summaryOf(reading, remark),
        };
        await db.insertInto('readings').values(row).execute();
        const settingsJson = JSON.stringify(settingsOf(reading));
        await db.insertInto('readingBodies').values({ readingId: id, settingsJson, readingJson }).execute();
        if (drawsJson !== null)
          await db.insertInto('curveDraws').values({ readingId: id, drawsJson }).execute();
        if (i % 10 !== 0) continue;
        const control: Tables['controls'] = {
          ...shared,
          id: randomUUID(),
          remark: '',
          ...use,
          exposedAt: new Date(day + 86_400_000).toISOString(),
          againstId: id,
          readingId: null,
          scrapsJson: JSON.stringify([{ seconds: 120, L: reading.steps[3]?.L ?? 50, uL: 0.5 }]),
          setup: '',
          shiftStops: 0.1,
          shiftLow: 0,
          shiftHigh: 0.2,
          sentence: '',
        };
        await db.insertInto('controls').values(control).execute();
      }
    });
  return {
    dyes: dyes.map((d) => d.id),
    cloths: cloths.map((c) => c.id),
    lights: lights.map((l) => l.id),
    batches: batches.map((b) => b.id),
  };
};
