import type { Kysely } from 'kysely';
import { baselineTexts } from '../../analysis/across/baseline.ts';
import type { ReadingRow, Tables } from '../store/schema.ts';
import type { BookControl } from './movedTime.ts';
import { withReplaced } from './superseded.ts';

/** One dye on one cloth under one light. */
export interface Use {
  readonly dyeId: string;
  readonly clothId: string;
  readonly lightId: string;
}

/** Fitted calibrations that stand: not put away, and no later reading in their place. Newest exposure first. */
const standing = (db: Kysely<Tables>) =>
  withReplaced(db)
    .selectFrom('readings')
    .where('readings.purpose', '=', 'calibration')
    .where('readings.fitted', '=', 1)
    .where('readings.putAwayAt', 'is', null)
    .where('readings.id', 'not in', (e) => e.selectFrom('replaced').select('id'));

/** The calibration that answers, and how many there are. */
export interface Chosen {
  readonly row: ReadingRow;
  readonly ofHowMany: number;
  /** It was made under another light, and only a control scrap ties it to this one. */
  readonly otherLight: boolean;
}

const ofUse = (db: Kysely<Tables>, { dyeId, clothId, lightId }: Use, at: string) =>
  standing(db)
    .where('readings.dyeId', '=', dyeId)
    .where('readings.clothId', '=', clothId)
    .where('readings.lightId', '=', lightId)
    .where('readings.exposedAt', '<=', at);

/**
 * The latest valid calibration of this dye, cloth and light before a moment; of the same batch, where one is named and
 * has one. Where this light has none, that of another light which the newest control scrap under this one is held against.
 */
export const chooseCalibration = async (
  db: Kysely<Tables>,
  use: Use,
  { at, batchId }: { readonly at: string; readonly batchId: string | null },
): Promise<Chosen | null> => {
  const newest = ofUse(db, use, at)
    .selectAll('readings')
    .orderBy('exposedAt', 'desc')
    .orderBy('readAt', 'desc')
    .limit(1);
  const row =
    (batchId === null ? undefined : await newest.where('batchId', '=', batchId).executeTakeFirst()) ??
    (await newest.executeTakeFirst());
  if (row) {
    const { n } = await ofUse(db, use, at)
      .select((e) => e.fn.countAll<number | string>().as('n'))
      .executeTakeFirstOrThrow();
    return { row, ofHowMany: Number(n), otherLight: false };
  }
  const tied = await db
    .selectFrom('controls')
    .select('againstId')
    .where('dyeId', '=', use.dyeId)
    .where('clothId', '=', use.clothId)
    .where('lightId', '=', use.lightId)
    .where('putAwayAt', 'is', null)
    .where('shiftStops', 'is not', null)
    .where('exposedAt', '<=', at)
    .orderBy('exposedAt', 'desc')
    .limit(20)
    .execute();
  for (const { againstId } of tied) {
    const other = await standing(db)
      .selectAll('readings')
      .where('readings.id', '=', againstId)
      .executeTakeFirst();
    if (other) return { row: other, ofHowMany: 1, otherLight: true };
  }
  return null;
};

/** This reading and the earlier ones that it stands in for: their control scraps are its own. */
const lineOf = async (db: Kysely<Tables>, row: ReadingRow): Promise<string[]> => {
  const ids = [row.id];
  for (let earlier = row.supersedesId; earlier !== null && ids.length < 50; ) {
    ids.push(earlier);
    const next: { readonly supersedesId: string | null } | undefined = await db
      .selectFrom('readings')
      .select('supersedesId')
      .where('id', '=', earlier)
      .executeTakeFirst();
    earlier = next?.supersedesId ?? null;
  }
  return ids;
};

/** A control scrap with what the doubts need of it. */
export interface ControlOfCalibration extends BookControl {
  readonly batchId: string | null;
  readonly cardKey: string | null;
}

const MOST_CONTROLS = 200;

/** Control scraps under a light held against a calibration, oldest first: at most the newest 200. */
export const controlsOf = async (
  db: Kysely<Tables>,
  calibration: ReadingRow,
  lightId: string,
  { from, to }: { readonly from: string; readonly to: string },
): Promise<ControlOfCalibration[]> => {
  const rows = await db
    .selectFrom('controls')
    .leftJoin('readings', 'readings.id', 'controls.readingId')
    .select([
      'controls.id',
      'controls.exposedAt',
      'controls.scrapsJson',
      'controls.setup',
      'controls.batchId',
      'controls.lampHours',
      'controls.shiftStops',
      'readings.cardKey',
    ])
    .where('controls.againstId', 'in', await lineOf(db, calibration))
    .where('controls.lightId', '=', lightId)
    .where('controls.putAwayAt', 'is', null)
    .where('controls.exposedAt', '>=', from)
    .where('controls.exposedAt', '<=', to)
    .orderBy('controls.exposedAt', 'desc')
    .orderBy('controls.id')
    .limit(MOST_CONTROLS)
    .execute();
  const oldestFirst = rows.reverse();
  const setups = baselineTexts(oldestFirst);
  return oldestFirst.map(({ setup: _, scrapsJson, ...row }, i) => ({
    ...row,
    scraps: JSON.parse(scrapsJson),
    setup: setups[i],
  }));
};
