import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { type ControlScrap, transferByControl } from '../../analysis/across/transfer.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { Control, controlFields, UseQuery } from '../contracts/recordUse.ts';
import { Refusal } from '../refusal.ts';
import type { ControlRow, Tables } from '../store/schema.ts';
import { type Desk, found } from './bookDesk.ts';
import { chooseCalibration } from './calibration.ts';
import { noteLampHours, settingsById } from './keepReading.ts';
import { exposedMoment, moment } from './moment.ts';
import { recordedReading } from './recordedCurve.ts';
import { thingById } from './things.ts';
import { usePage } from './usePage.ts';

type ControlFields = z.infer<typeof controlFields>;

const asControl = ({ scrapsJson, shiftStops, shiftLow, shiftHigh, ...rest }: ControlRow): Control => ({
  ...rest,
  scraps: JSON.parse(scrapsJson),
  shiftStops: { value: shiftStops, low: shiftLow, high: shiftHigh },
});

const exposedScraps = (steps: readonly ControlScrap[]): ControlScrap[] => {
  const scraps = steps.filter((step) => step.seconds > 0);
  if (scraps.length > 0) return scraps.map(({ seconds, L, uL }) => ({ seconds, L, uL }));
  throw new Refusal('request-invalid', 'The control has no exposed piece, only a base. Expose one.', {
    phrase: phrase('control-bare', {}),
  });
};

/** What the control is of, when and how it was exposed: from its reading, else from the calibration and the fields. */
const circumstances = async (db: Kysely<Tables>, fields: ControlFields, now: Date) => {
  const { batchId, lampHours, sky } = fields;
  if (fields.readingId === null) {
    if (fields.againstId === null)
      throw new Refusal(
        'request-invalid',
        'Say which calibration the control scrap is held against ("againstId"), or keep its reading first.',
        { phrase: phrase('control-unheld', {}) },
      );
    const of = found(
      await db.selectFrom('readings').selectAll().where('id', '=', fields.againstId).executeTakeFirst(),
      'reading',
    );
    return {
      use: { dyeId: of.dyeId, clothId: of.clothId, lightId: of.lightId },
      exposed: { batchId, lampHours, sky, exposedAt: exposedMoment(fields.exposedAt, now) },
      scraps: exposedScraps(fields.scraps ?? []),
    };
  }
  const { readingId } = fields;
  const row = found(
    await db.selectFrom('readings').selectAll().where('id', '=', readingId).executeTakeFirst(),
    'reading',
  );
  const { reading } = await settingsById(db, readingId);
  return {
    use: { dyeId: row.dyeId, clothId: row.clothId, lightId: row.lightId },
    exposed: {
      batchId: batchId ?? row.batchId,
      lampHours: lampHours ?? row.lampHours,
      sky: sky ?? row.sky,
      exposedAt: fields.exposedAt === undefined ? row.exposedAt : exposedMoment(fields.exposedAt, now),
    },
    scraps: exposedScraps(reading.steps),
  };
};

/**
 * Keeps a control scrap, held against a calibration of the same dye and cloth, under the same light or another.
 *
 * @throws AnalysisError `comparison-invalid`; Refusal `not-found`, `no-calibration`, `request-invalid` and those of the store.
 */
export const keepControl = async ({ store, now }: Desk, fields: ControlFields): Promise<Control> => {
  const createdAt = moment(now());
  const id = fields.id ?? randomUUID();
  return store.write(async (db) => {
    const before = await db.selectFrom('controls').selectAll().where('id', '=', id).executeTakeFirst();
    if (before) return asControl(before);
    const { use, exposed, scraps } = await circumstances(db, fields, now());
    if (exposed.batchId) await thingById(db, 'batches', exposed.batchId);
    const againstId =
      fields.againstId ??
      (await chooseCalibration(db, use, { at: exposed.exposedAt, batchId: null }))?.row.id ??
      null;
    if (againstId === null)
      throw new Refusal(
        'no-calibration',
        'The book has no calibration of this dye, cloth and light from before this scrap. Keep a test strip first, or name the calibration that it is held against.',
        { phrase: phrase('control-without-strip', {}) },
      );
    const against = found(
      await db
        .selectFrom('readings')
        .select(['dyeId', 'clothId'])
        .where('id', '=', againstId)
        .executeTakeFirst(),
      'reading',
    );
    if (against.dyeId !== use.dyeId || against.clothId !== use.clothId)
      throw new Refusal(
        'book-conflict',
        'The control scrap is of another dye or cloth than the calibration: a shift holds for one dye on one cloth only.',
        { phrase: phrase('control-of-another', {}) },
      );
    const shift = transferByControl(await recordedReading(db, againstId), scraps);
    const told = shift.kind === 'transferred' ? shift : null;
    const row: ControlRow = {
      id,
      createdAt,
      changedAt: createdAt,
      putAwayAt: null,
      remark: fields.remark,
      ...use,
      ...exposed,
      againstId,
      readingId: fields.readingId,
      scrapsJson: JSON.stringify(scraps),
      setup: fields.setup,
      shiftStops: told?.shiftStops.value ?? null,
      shiftLow: told?.shiftStops.low ?? null,
      shiftHigh: told?.shiftStops.high ?? null,
      sentence: [shift.sentence, ...(told?.warnings ?? []).map((w) => w.message)].join(' '),
    };
    await db.insertInto('controls').values(row).execute();
    await noteLampHours(db, await thingById(db, 'lights', use.lightId), exposed.lampHours, createdAt);
    return asControl(row);
  });
};

/** Control scraps, newest exposure first. */
export const listControls = async (
  { store }: Desk,
  query: UseQuery,
): Promise<{ readonly controls: readonly Control[]; readonly total: number }> =>
  store.read(async (db) => {
    const { rows, total } = await usePage(db, 'controls', query);
    return { controls: rows.map(asControl), total };
  });
