import type { Kysely } from 'kysely';
import type { BookFile } from '../contracts/archive.ts';
import { nameKey } from '../record/nameKey.ts';
import type { Tables } from '../store/schema.ts';
import { type ArrivingReading, type KnownTwins, mergeReadings } from './archiveReadings.ts';
import { controlRow, noteRow, photoRow, printRow, type ThingKind, thingRow } from './archiveRows.ts';
import {
  add,
  type Db,
  grouped,
  type Ids,
  insertAll,
  type Loose,
  type Merged,
  orNull,
  place,
  said,
  standFor,
  to,
  unspoken,
} from './archiveTurns.ts';

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

const alike = (kind: ThingKind, one: Loose, other: Loose): boolean =>
  SUBSTANCE[kind].every((column) => (one[column] ?? null) === (other[column] ?? null));

const freeName = (name: string, taken: (key: string) => boolean): string => {
  for (let n = 2; ; n++) {
    const next = `${name.slice(0, 190)} (${n})`;
    if (!taken(nameKey(next))) return next;
  }
};

/** Things by id, else by name and substance; a newer word about the same thing wins. */
const mergeThings = async (db: Db, kind: ThingKind, rows: readonly Loose[], ids: Ids, merged: Merged) => {
  if (rows.length === 0) return;
  const { db: all, table } = things(db, kind);
  const here = (await all.selectFrom(table).selectAll().execute()) as unknown as Loose[];
  const byId = new Map(here.map((row) => [row.id, row]));
  const byKey = new Map(here.map((row) => [row.nameKey ?? row.id, row]));
  const bySubstance = grouped(here, (row) => said(row, SUBSTANCE[kind]));
  const fresh: Loose[] = [];
  for (const row of rows) {
    const same = byId.get(row.id);
    const sameName =
      kind === 'plans'
        ? bySubstance.get(said(row, SUBSTANCE[kind]))?.find((h) => !ids.spoken.has(String(h.id)))
        : byKey.get(row.nameKey);
    if (same) {
      const taken = sameName !== undefined && sameName.id !== row.id;
      if (String(row.changedAt) <= String(same.changedAt) || taken) {
        merged.known += 1;
        continue;
      }
      // A row of this archive may have taken the name that this one gives up, or the other way round.
      await insertAll(db, kind, fresh.splice(0));
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
    const added = kind === 'plans' ? row : { ...row, name, nameKey: nameKey(name) };
    fresh.push(added);
    byId.set(row.id, added);
    byKey.set((added as Loose).nameKey ?? row.id, added);
    add(merged, kind);
  }
  await insertAll(db, kind, fresh);
};

type Used = 'controls' | 'prints' | 'notes';

/** Columns that say when something was said, not what. */
const WHEN = new Set(['id', 'createdAt', 'changedAt', 'putAwayAt']);

/** Rows of use by id, else by everything that they say; the newer one wins. */
const mergeUse = async (db: Db, kind: Used, rows: readonly Loose[], ids: Ids, merged: Merged) => {
  const [first] = rows;
  if (first === undefined) return;
  const all = db as unknown as Kysely<Record<Used, Tables['notes']>>;
  const here = (await all.selectFrom(kind).selectAll().orderBy('id').execute()) as unknown as (Loose & {
    readonly id: string;
  })[];
  const byId = new Map(here.map((row) => [row.id, row]));
  const columns = Object.keys(first).filter((column) => !WHEN.has(column));
  const byWords = grouped(here, (row) => said(row, columns));
  const fresh: Loose[] = [];
  for (const row of rows) {
    const id = String(row.id);
    const same = byId.get(id);
    if (same) {
      if (String(row.changedAt) <= String(same.changedAt)) merged.known += 1;
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
    const twin = unspoken(ids, byWords.get(said(row, columns)) ?? []);
    if (twin) {
      standFor(ids, id, twin);
      merged.known += 1;
    } else fresh.push(row);
  }
  await insertAll(db, kind, fresh);
  add(merged, kind, fresh.length);
};

/**
 * Brings the rows of a checked archive into the book, within one transaction: what is there already, by id or by what it
 * says, is not brought in twice. The texts of its readings lie there already (Arrival), so that this takes moments.
 *
 * @param readings in an order in which each comes after the one that it stands in for.
 */
export const mergeBook = async (
  db: Db,
  book: BookFile,
  readings: readonly ArrivingReading[],
  twins: KnownTwins,
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

  const photos = await insertAll(db, 'photos', book.photos.map(photoRow), 'sha256');
  add(merged, 'photos', photos);
  merged.known += book.photos.length - photos;
  await mergeReadings(db, readings, twins, ids, merged);

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
