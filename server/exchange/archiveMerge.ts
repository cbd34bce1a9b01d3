import type { Kysely, Transaction } from 'kysely';
import type { BookFile, ReadingFile } from '../contracts/archive.ts';
import { moment } from '../record/moment.ts';
import { nameKey } from '../record/nameKey.ts';
import type { Tables } from '../store/schema.ts';
import {
  controlRow,
  noteRow,
  photoRow,
  printRow,
  readingRows,
  type ThingKind,
  thingRow,
} from './archiveRows.ts';

/** What came of every row, as it is counted for the answer. */
export interface Merged {
  readonly added: Record<string, number>;
  known: number;
  renewed: number;
  readonly renamed: { readonly from: string; readonly to: string }[];
}

type Db = Transaction<Tables>;

/** Which rows of the book stand for rows of the archive. */
interface Ids {
  /** Id in the archive → id here, where they differ. */
  readonly map: Map<string, string>;
  /** Rows that stand for one of the archive: a row that says the same as two others is still one row. */
  readonly spoken: Set<string>;
}

/** The first of these rows that nothing in the archive stands for yet. */
const unspoken = ({ spoken }: Ids, rows: readonly { readonly id: string }[]): string | undefined =>
  rows.find((row) => !spoken.has(row.id))?.id;

const standFor = ({ map, spoken }: Ids, id: string, here: string): void => {
  map.set(id, here);
  spoken.add(here);
};

// The tables of things share these columns, which the type of a union of tables does not show.
const things = (db: Db, kind: ThingKind) =>
  ({ db: db as unknown as Kysely<Record<ThingKind, Tables['dyes']>>, table: kind }) as const;

/** What makes a thing another one even under the same name. */
const SUBSTANCE: Readonly<Record<ThingKind, readonly string[]>> = {
  dyes: [],
  cloths: [],
  lights: ['kind', 'distanceCm', 'glass'],
  batches: ['dyeId', 'mixedAt'],
  cards: ['cardJson'],
  plans: ['name', 'dyeId', 'clothId', 'lightId', 'secondsJson', 'planJson', 'remark'],
};

type Loose = Record<string, string | number | null>;

const alike = (kind: ThingKind, one: Loose, other: Loose): boolean =>
  SUBSTANCE[kind].every((column) => (one[column] ?? null) === (other[column] ?? null));

const freeName = (name: string, taken: (key: string) => boolean): string => {
  for (let n = 2; ; n++) {
    const next = `${name.slice(0, 190)} (${n})`;
    if (!taken(nameKey(next))) return next;
  }
};

const add = (merged: Merged, kind: string): void => {
  merged.added[kind] = (merged.added[kind] ?? 0) + 1;
};

/** Things by id, else by name and substance; a newer word about the same thing wins. */
const mergeThings = async (db: Db, kind: ThingKind, rows: readonly Loose[], ids: Ids, merged: Merged) => {
  const { db: all, table } = things(db, kind);
  const here = (await all.selectFrom(table).selectAll().execute()) as unknown as Loose[];
  const byId = new Map(here.map((row) => [row.id, row]));
  const byKey = new Map(here.map((row) => [row.nameKey ?? row.id, row]));
  for (const row of rows) {
    const same = byId.get(row.id);
    const sameName =
      kind === 'plans'
        ? here.find((h) => alike(kind, h, row) && !ids.spoken.has(String(h.id)))
        : byKey.get(row.nameKey);
    if (same) {
      const taken = sameName !== undefined && sameName.id !== row.id;
      if (String(row.changedAt) <= String(same.changedAt) || taken) {
        merged.known += 1;
        continue;
      }
      await all
        .updateTable(table)
        .set(row as never)
        .where('id', '=', String(row.id))
        .execute();
      if (kind !== 'plans' && same.nameKey !== row.nameKey) byKey.delete(same.nameKey);
      byId.set(row.id, row);
      byKey.set(row.nameKey ?? row.id, row);
      merged.renewed += 1;
      continue;
    }
    if (sameName && alike(kind, sameName, row)) {
      standFor(ids, String(row.id), String(sameName.id));
      merged.known += 1;
      continue;
    }
    const name = sameName ? freeName(String(row.name), (key) => byKey.has(key)) : String(row.name);
    if (name !== row.name) merged.renamed.push({ from: String(row.name), to: name });
    const fresh = kind === 'plans' ? row : { ...row, name, nameKey: nameKey(name) };
    await all
      .insertInto(table)
      .values(fresh as never)
      .execute();
    byId.set(row.id, fresh);
    byKey.set((fresh as Loose).nameKey ?? row.id, fresh);
    add(merged, kind);
  }
};

const to = (ids: Ids, id: string): string => ids.map.get(id) ?? id;
const orNull = (ids: Ids, id: string | null): string | null => (id === null ? null : to(ids, id));

const place = (
  ids: Ids,
  row: { dyeId: string; clothId: string; lightId: string; batchId: string | null },
) => ({
  dyeId: to(ids, row.dyeId),
  clothId: to(ids, row.clothId),
  lightId: to(ids, row.lightId),
  batchId: orNull(ids, row.batchId),
});

/** Readings in an order in which each comes after the one it stands in for; null where they run in a circle. */
export const eldersFirst = <T extends { readonly id: string; readonly supersedesId: string | null }>(
  readings: readonly T[],
): readonly T[] | null => {
  const younger = new Map<string, T[]>();
  for (const reading of readings)
    if (reading.supersedesId !== null)
      younger.set(reading.supersedesId, [...(younger.get(reading.supersedesId) ?? []), reading]);
  const order = readings.filter((reading) => reading.supersedesId === null);
  for (let i = 0; i < order.length; i++) order.push(...(younger.get(order[i].id) ?? []));
  return order.length === readings.length ? order : null;
};

/** A reading never changes; only what is said of it and whether it is put away can be newer. */
const mergeReading = async (
  db: Db,
  given: BookFile['readings'][number],
  bodyOf: () => Promise<ReadingFile>,
  ids: Ids,
  merged: Merged,
): Promise<void> => {
  const same = await db
    .selectFrom('readings')
    .select('changedAt')
    .where('id', '=', given.id)
    .executeTakeFirst();
  const changedAt = moment(given.changedAt);
  if (same && changedAt <= same.changedAt) {
    merged.known += 1;
    return;
  }
  const moved = {
    ...given,
    ...place(ids, given),
    cardId: orNull(ids, given.cardId),
    planId: orNull(ids, given.planId),
    supersedesId: orNull(ids, given.supersedesId),
  };
  const { line, body } = readingRows(moved, await bodyOf());
  if (same) {
    const { putAwayAt, remark, remarkKey } = line;
    await db
      .updateTable('readings')
      .set({ changedAt, putAwayAt: putAwayAt ?? null, remark, remarkKey })
      .where('id', '=', given.id)
      .execute();
    merged.renewed += 1;
    return;
  }
  const twins = await db
    .selectFrom('readings')
    .innerJoin('readingBodies', 'readingBodies.readingId', 'readings.id')
    .select('readings.id')
    .where('readings.photo', '=', given.photo)
    .where('readings.purpose', '=', given.purpose)
    .where('readings.dyeId', '=', moved.dyeId)
    .where('readings.clothId', '=', moved.clothId)
    .where('readings.lightId', '=', moved.lightId)
    .where('readings.exposedAt', '=', line.exposedAt)
    .where('readings.supersedesId', moved.supersedesId === null ? 'is' : '=', moved.supersedesId)
    .where('readingBodies.readingJson', '=', body.readingJson)
    .where('readingBodies.settingsJson', '=', body.settingsJson)
    .orderBy('readings.id')
    .execute();
  const twin = unspoken(ids, twins);
  if (twin) {
    standFor(ids, given.id, twin);
    merged.known += 1;
    return;
  }
  await db.insertInto('readings').values(line).execute();
  await db.insertInto('readingBodies').values(body).execute();
  add(merged, 'readings');
};

type Used = 'controls' | 'prints' | 'notes';

/** Rows of use by id, else by everything that they say; the newer one wins. */
const mergeUse = async (db: Db, kind: Used, rows: readonly Loose[], ids: Ids, merged: Merged) => {
  const all = db as unknown as Kysely<Record<Used, Tables['notes']>>;
  for (const row of rows) {
    const id = String(row.id);
    const same = await all.selectFrom(kind).select('changedAt').where('id', '=', id).executeTakeFirst();
    if (same) {
      if (String(row.changedAt) <= same.changedAt) merged.known += 1;
      else {
        await all
          .updateTable(kind)
          .set(row as never)
          .where('id', '=', id)
          .execute();
        merged.renewed += 1;
      }
      continue;
    }
    const said = Object.entries(row).filter(
      ([c]) => !['id', 'createdAt', 'changedAt', 'putAwayAt'].includes(c),
    );
    let query = all.selectFrom(kind).select('id');
    for (const [column, value] of said)
      query = query.where(column as never, value === null ? 'is' : '=', value as never);
    const twin = unspoken(ids, await query.orderBy('id').execute());
    if (twin) {
      standFor(ids, id, twin);
      merged.known += 1;
      continue;
    }
    await all
      .insertInto(kind)
      .values(row as never)
      .execute();
    add(merged, kind);
  }
};

/**
 * Brings the rows of a checked archive into the book, within one transaction: what is there already, by id or by what it
 * says, is not brought in twice.
 *
 * @param bodyOf a reading's file.
 */
export const mergeBook = async (
  db: Db,
  book: BookFile,
  readings: readonly BookFile['readings'][number][],
  bodyOf: (reading: BookFile['readings'][number]) => Promise<ReadingFile>,
): Promise<Merged> => {
  const merged: Merged = { added: {}, known: 0, renewed: 0, renamed: [] };
  const own = [...book.plans, ...book.readings, ...book.controls, ...book.prints, ...book.notes];
  const ids: Ids = { map: new Map(), spoken: new Set(own.map((row) => row.id)) };
  for (const kind of ['dyes', 'cloths', 'lights'] as const)
    await mergeThings(
      db,
      kind,
      book[kind].map((row) => thingRow[kind](row as never) as Loose),
      ids,
      merged,
    );
  const batches = book.batches.map((row) => ({ ...row, dyeId: orNull(ids, row.dyeId) }));
  await mergeThings(
    db,
    'batches',
    batches.map((row) => thingRow.batches(row) as Loose),
    ids,
    merged,
  );
  await mergeThings(
    db,
    'cards',
    book.cards.map((row) => thingRow.cards(row) as Loose),
    ids,
    merged,
  );
  const plans = book.plans.map((row) => ({
    ...row,
    dyeId: orNull(ids, row.dyeId),
    clothId: orNull(ids, row.clothId),
    lightId: orNull(ids, row.lightId),
  }));
  await mergeThings(
    db,
    'plans',
    plans.map((row) => thingRow.plans(row) as Loose),
    ids,
    merged,
  );

  for (const photo of book.photos) {
    const { numInsertedOrUpdatedRows } = await db
      .insertInto('photos')
      .values(photoRow(photo))
      .onConflict((c) => c.column('sha256').doNothing())
      .executeTakeFirst();
    if (Number(numInsertedOrUpdatedRows ?? 0) > 0) add(merged, 'photos');
    else merged.known += 1;
  }
  for (const reading of readings) await mergeReading(db, reading, () => bodyOf(reading), ids, merged);

  const controls = book.controls.map((row) =>
    controlRow({
      ...row,
      ...place(ids, row),
      againstId: to(ids, row.againstId),
      readingId: orNull(ids, row.readingId),
    }),
  );
  await mergeUse(db, 'controls', controls as unknown as Loose[], ids, merged);
  const prints = book.prints.map((row) =>
    printRow({
      ...row,
      ...place(ids, row),
      calibrationId: orNull(ids, row.calibrationId),
      readingId: orNull(ids, row.readingId),
    }),
  );
  await mergeUse(db, 'prints', prints as unknown as Loose[], ids, merged);
  const notes = book.notes.map((row) => noteRow({ ...row, on: { ...row.on, id: to(ids, row.on.id) } }));
  await mergeUse(db, 'notes', notes as unknown as Loose[], ids, merged);
  return merged;
};
