import { type Kysely, sql } from 'kysely';
import type { Reading } from '../../analysis/reading.ts';
import type { ReadingFilter, ReadingLine, ReadingList } from '../contracts/recordReadings.ts';
import type { ReadingRow, Tables } from '../store/schema.ts';
import { found } from './bookDesk.ts';
import { moment } from './moment.ts';
import { nameKey } from './nameKey.ts';
import { standInsOf, withReplaced } from './superseded.ts';

/** The columns that a reading is listed, filtered and chosen by. */
export const summaryOf = (reading: Reading, remark: string) => {
  const { curve, advice, marks, tone, warnings, methodVersion } = reading;
  const fitted = curve.kind === 'fitted' ? curve.curve : null;
  return {
    methodVersion,
    fitted: fitted ? 1 : 0,
    status: advice.status,
    targetJson: JSON.stringify(advice.target),
    seconds: advice.seconds,
    low: advice.low,
    high: advice.high,
    roundedSeconds: advice.roundedSeconds,
    baseL: fitted?.baseL ?? null,
    deepestL: fitted?.deepestL ?? null,
    shortestSeconds: fitted?.shortestSeconds ?? null,
    longestSeconds: fitted?.longestSeconds ?? null,
    relative: tone.relative ? 1 : 0,
    marksConfidence: Math.min(
      1,
      ...marks.card.map((m) => m.confidence),
      ...marks.steps.map((m) => m.confidence),
    ),
    warnings: warnings.length,
    remark,
    remarkKey: nameKey(remark),
  } satisfies Partial<ReadingRow>;
};

/** Readings with the names of what they are of. */
const lines = (db: Kysely<Tables>) =>
  db
    .selectFrom('readings')
    .innerJoin('dyes', 'dyes.id', 'readings.dyeId')
    .innerJoin('cloths', 'cloths.id', 'readings.clothId')
    .innerJoin('lights', 'lights.id', 'readings.lightId')
    .leftJoin('batches', 'batches.id', 'readings.batchId');

const lineColumns = (db: Kysely<Tables>) =>
  lines(db)
    .selectAll('readings')
    .select(['dyes.name as dye', 'cloths.name as cloth', 'lights.name as light', 'batches.name as batch']);

type LineRow = Awaited<ReturnType<ReturnType<typeof lineColumns>['execute']>>[number];

const asLine = (row: LineRow, supersededById: string | null): ReadingLine => {
  const { targetJson, relative, confirmed, fitted: _, cardKey: __, remarkKey: ___, ...rest } = row;
  return {
    ...rest,
    supersededById,
    target: JSON.parse(targetJson),
    relative: relative === 1,
    confirmed: confirmed === 1,
  };
};

/** More words than these are let go by. */
const MOST_WORDS = 12;

/** LIKE with the person's own % and _ taken as they are. */
const containing = (word: string): string => `%${word.replace(/[\\%_]/g, (c) => `\\${c}`)}%`;

/** Without joins: counting and choosing touch as little as they can. */
const filtered = (db: Kysely<Tables>, filter: ReadingFilter) => {
  let query = withReplaced(db).selectFrom('readings');
  if (!filter.away)
    // With words every row has to be looked at: in the order of the table, not hopping along an index.
    query = filter.text
      ? query.where(sql`coalesce(readings."putAwayAt", '')`, '=', '')
      : query.where('readings.putAwayAt', 'is', null);
  if (!filter.superseded)
    query = query.where('readings.id', 'not in', (e) => e.selectFrom('replaced').select('id'));
  if (filter.purpose) query = query.where('readings.purpose', '=', filter.purpose);
  for (const column of ['dyeId', 'clothId', 'lightId', 'batchId'] as const) {
    const wanted = filter[column];
    if (wanted) query = query.where(`readings.${column}`, '=', wanted);
  }
  if (filter.from) query = query.where('readings.exposedAt', '>=', moment(filter.from));
  if (filter.to) query = query.where('readings.exposedAt', '<', moment(filter.to));
  for (const word of filter.text ? nameKey(filter.text).split(' ').slice(0, MOST_WORDS) : []) {
    const like = containing(word);
    // SQLite knows no escape character unless told; to PostgreSQL it is the backslash anyway.
    const has = (column: string) => sql<boolean>`${sql.ref(column)} like ${like} escape '\\'`;
    query = query.where((e) =>
      e.or([
        has('readings.remarkKey'),
        e('readings.dyeId', 'in', e.selectFrom('dyes').select('id').where(has('nameKey'))),
        e('readings.clothId', 'in', e.selectFrom('cloths').select('id').where(has('nameKey'))),
        e('readings.lightId', 'in', e.selectFrom('lights').select('id').where(has('nameKey'))),
        e('readings.batchId', 'in', e.selectFrom('batches').select('id').where(has('nameKey'))),
      ]),
    );
  }
  return query;
};

/** Readings that the filter lets through, newest exposure first. */
export const listReadings = async (db: Kysely<Tables>, filter: ReadingFilter): Promise<ReadingList> => {
  const count = async (): Promise<number> => {
    const { total } = await filtered(db, filter)
      .select((e) => e.fn.countAll<number | string>().as('total'))
      .executeTakeFirstOrThrow();
    return Number(total);
  };
  const wanted = filtered(db, filter)
    .select('readings.id')
    .orderBy('readings.exposedAt', 'desc')
    .orderBy('readings.id', 'desc')
    .limit(filter.limit)
    .offset(filter.offset);
  // Words have to be looked for in every row: counted in the same pass. Without words an index counts faster.
  const ids = filter.text
    ? await wanted.select((e) => e.fn.countAll<number | string>().over().as('total')).execute()
    : (await wanted.execute()).map((row) => ({ ...row, total: null }));
  const total = Number(ids[0]?.total ?? (await count()));
  const rows =
    ids.length === 0
      ? []
      : await lineColumns(db)
          .where(
            'readings.id',
            'in',
            ids.map((row) => row.id),
          )
          .orderBy('readings.exposedAt', 'desc')
          .orderBy('readings.id', 'desc')
          .execute();
  const later = await standInsOf(
    db,
    rows.map((row) => row.id),
  );
  return {
    readings: rows.map((row) => asLine(row, later.get(row.id) ?? null)),
    total,
    offset: filter.offset,
  };
};

/** @throws Refusal `not-found`. */
export const readingLineById = async (db: Kysely<Tables>, id: string): Promise<ReadingLine> =>
  asLine(
    found(await lineColumns(db).where('readings.id', '=', id).executeTakeFirst(), 'reading'),
    (await standInsOf(db, [id])).get(id) ?? null,
  );
