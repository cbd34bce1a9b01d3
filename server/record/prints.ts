import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { depthPercent, lightnessAt } from '../../analysis/curve/evaluate.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { Reading } from '../../analysis/reading.ts';
import type { Print, printFields, printReached, UseQuery } from '../contracts/recordUse.ts';
import { Refusal } from '../refusal.ts';
import type { PrintRow, Tables } from '../store/schema.ts';
import { type Desk, found } from './bookDesk.ts';
import { noteLampHours, settingsById } from './keepReading.ts';
import { exposedMoment, moment } from './moment.ts';
import { missedStops } from './movedTime.ts';
import { asPrint } from './printRows.ts';
import { type RecordedReading, recordedReading } from './recordedCurve.ts';
import { thingById } from './things.ts';
import { standingOf } from './today.ts';
import { usePage } from './usePage.ts';

type PrintFields = z.infer<typeof printFields>;

/** L* of a print's own reading: its single exposed piece. */
const reachedIn = (reading: Reading): { readonly L: number; readonly uL: number } => {
  const pieces = reading.steps.filter((step) => step.seconds > 0);
  if (pieces.length === 1) return { L: pieces[0].L, uL: pieces[0].uL };
  throw new Refusal(
    'request-invalid',
    `The reading of a print needs one exposed piece; this one has ${pieces.length}. Mark the print as one step.`,
    { phrase: phrase('print-pieces', { pieces: pieces.length }) },
  );
};

interface Reached {
  readonly L: number | null;
  readonly uL: number | null;
}

const reachedOf = async (db: Kysely<Tables>, fields: PrintFields): Promise<Reached> => {
  if (fields.readingId === null) return { L: fields.reachedL, uL: fields.reachedUL };
  return reachedIn((await settingsById(db, fields.readingId)).reading);
};

/** Columns that follow from what was reached. */
const reachedColumns = (
  recorded: RecordedReading | null,
  { L, uL }: Reached,
  { secondsUsed, movedStops }: Pick<PrintRow, 'secondsUsed' | 'movedStops'>,
) => ({
  reachedL: L,
  reachedUL: L === null ? null : uL,
  reachedDepthPercent: recorded && L !== null ? depthPercent(recorded.curve, L) : null,
  missedStops: recorded && L !== null ? missedStops(recorded, L, secondsUsed, movedStops) : null,
});

/** The calibration that gave the time, and what the light was taken to have moved by. */
const predictedBy = async (
  db: Kysely<Tables>,
  fields: PrintFields,
  at: string,
  lightKind: 'lamps' | 'sun',
) => {
  const { dyeId, clothId, lightId, batchId, lampHours, sky } = fields;
  const question = { dyeId, clothId, lightId, batchId, lampHours, sky, cardId: null };
  const standing = await standingOf(db, { question, at, lightKind });
  if (fields.calibrationId !== null && fields.calibrationId !== standing?.chosen.row.id)
    return {
      id: fields.calibrationId,
      recorded: await recordedReading(db, fields.calibrationId),
      movedStops: 0,
    };
  return standing
    ? {
        id: standing.chosen.row.id,
        recorded: standing.recorded,
        movedStops: standing.moved.shiftStops.value ?? 0,
      }
    : { id: null, recorded: null, movedStops: 0 };
};

/**
 * Keeps a print that was made: the time used, what the book predicted for that time, and what was reached.
 *
 * @throws Refusal `not-found`, `request-invalid` and those of the store.
 */
export const keepPrint = async ({ store, now }: Desk, fields: PrintFields): Promise<Print> => {
  const createdAt = moment(now());
  const exposedAt = exposedMoment(fields.exposedAt, now());
  const id = fields.id ?? randomUUID();
  return store.write(async (db) => {
    const before = await db.selectFrom('prints').selectAll().where('id', '=', id).executeTakeFirst();
    if (before) return asPrint(before);
    await thingById(db, 'dyes', fields.dyeId);
    await thingById(db, 'cloths', fields.clothId);
    const light = await thingById(db, 'lights', fields.lightId);
    if (fields.batchId) await thingById(db, 'batches', fields.batchId);
    const { id: calibrationId, recorded, movedStops } = await predictedBy(db, fields, exposedAt, light.kind);
    const predictedL =
      fields.predictedL ??
      (recorded ? lightnessAt(recorded.curve, fields.secondsUsed * 2 ** movedStops) : null);
    const row: PrintRow = {
      id,
      createdAt,
      changedAt: createdAt,
      putAwayAt: null,
      remark: fields.remark,
      name: fields.name ?? '',
      dyeId: fields.dyeId,
      clothId: fields.clothId,
      lightId: fields.lightId,
      batchId: fields.batchId,
      lampHours: fields.lampHours,
      sky: fields.sky,
      exposedAt,
      secondsUsed: fields.secondsUsed,
      targetJson: fields.target ? JSON.stringify(fields.target) : null,
      calibrationId,
      movedStops,
      predictedL,
      predictedDepthPercent:
        recorded && predictedL !== null ? depthPercent(recorded.curve, predictedL) : null,
      readingId: fields.readingId,
      judged: fields.judged,
      ...reachedColumns(recorded, await reachedOf(db, fields), {
        secondsUsed: fields.secondsUsed,
        movedStops,
      }),
    };
    await db.insertInto('prints').values(row).execute();
    await noteLampHours(db, light, fields.lampHours, createdAt);
    return asPrint(row);
  });
};

const printById = async (db: Kysely<Tables>, id: string): Promise<PrintRow> =>
  found(await db.selectFrom('prints').selectAll().where('id', '=', id).executeTakeFirst(), 'print');

/** One print. @throws Refusal `not-found`. */
export const onePrint = async ({ store }: Desk, id: string): Promise<Print> =>
  store.read(async (db) => asPrint(await printById(db, id)));

/** Says what a print reached, measured or by eye, once it is dry; or takes that back. @throws Refusal `not-found`. */
export const sayReached = async (
  { store, now }: Desk,
  id: string,
  { reachedL, reachedUL, judged }: z.infer<typeof printReached>,
): Promise<Print> =>
  store.write(async (db) => {
    const row = await printById(db, id);
    const recorded = row.calibrationId === null ? null : await recordedReading(db, row.calibrationId);
    await db
      .updateTable('prints')
      .set({
        changedAt: moment(now()),
        judged,
        ...reachedColumns(recorded, { L: reachedL, uL: reachedUL }, row),
      })
      .where('id', '=', id)
      .execute();
    return asPrint(await printById(db, id));
  });

/** Prints made, newest first. */
export const listPrints = async (
  { store }: Desk,
  query: UseQuery,
): Promise<{ readonly prints: readonly Print[]; readonly total: number }> =>
  store.read(async (db) => {
    const { rows, total } = await usePage(db, 'prints', query);
    return { prints: rows.map(asPrint), total };
  });
