import type { Insertable, Kysely } from 'kysely';
import type { BookFile } from '../contracts/archive.ts';
import { moment } from '../record/moment.ts';
import type { Store } from '../store/openStore.ts';
import type { Tables } from '../store/schema.ts';
import type { Arrival } from './archiveArrival.ts';
import { archivedReadingOf } from './archiveCheck.ts';
import type { ArchiveFile } from './archiveFile.ts';
import { readingRows } from './archiveRows.ts';
import {
  add,
  type Db,
  grouped,
  type Ids,
  insertAll,
  type Merged,
  orNull,
  place,
  standFor,
  unspoken,
} from './archiveTurns.ts';

type Given = BookFile['readings'][number];
type Line = Insertable<Tables['readings']>;

/** A reading of an archive on its way in. */
export interface ArrivingReading {
  readonly given: Given;
  /** Its row with the archive's own ids; null where the book had it, as new or newer, when it was looked for. */
  readonly line: Line | null;
}

/** What was found before the transaction: for a reading of the archive the readings of the book with the same texts. */
export interface KnownTwins {
  readonly of: ReadonlyMap<string, ReadonlySet<string>>;
  /** Readings that the book had then. */
  readonly known: ReadonlySet<string>;
}

/** Readings in an order in which each comes after the one it stands in for; null where they run in a circle. */
export const eldersFirst = <T extends { readonly id: string; readonly supersedesId: string | null }>(
  readings: readonly T[],
): readonly T[] | null => {
  const younger = grouped(
    readings.filter((reading) => reading.supersedesId !== null),
    (reading) => String(reading.supersedesId),
  );
  const order = readings.filter((reading) => reading.supersedesId === null);
  for (let i = 0; i < order.length; i++) order.push(...(younger.get(order[i].id) ?? []));
  return order.length === readings.length ? order : null;
};

/** Readings of the book that say word for word what a reading that was laid down says. */
const sameTexts = async (db: Kysely<Tables>, id: string, photo: string): Promise<ReadonlySet<string>> => {
  const rows = await db
    .selectFrom('readings')
    .innerJoin('readingBodies as theirs', 'theirs.readingId', 'readings.id')
    .innerJoin('readingBodies as ours', (j) =>
      j
        .on('ours.readingId', '=', id)
        .onRef('ours.readingJson', '=', 'theirs.readingJson')
        .onRef('ours.settingsJson', '=', 'theirs.settingsJson'),
    )
    .where('readings.photo', '=', photo)
    .where('readings.id', '<>', id)
    .select('readings.id')
    .execute();
  return new Set(rows.map((row) => row.id));
};

/** Lays down the texts of every reading that the book lacks, and prepares their rows. */
export const layReadings = async (
  store: Store,
  file: ArchiveFile,
  readings: readonly Given[],
  arrival: Arrival,
): Promise<{ readonly readings: readonly ArrivingReading[]; readonly known: ReadonlySet<string> }> => {
  const here = await store.read((db) => db.selectFrom('readings').select(['id', 'changedAt']).execute());
  const changed = new Map(here.map((row) => [row.id, row.changedAt]));
  const laid: ArrivingReading[] = [];
  for (const given of readings) {
    const since = changed.get(given.id);
    if (since !== undefined && moment(given.changedAt) <= since) {
      laid.push({ given, line: null });
      continue;
    }
    const { line, body } = readingRows(given, await archivedReadingOf(file, given));
    if (since === undefined) await arrival.body(body);
    laid.push({ given, line });
  }
  return { readings: laid, known: new Set(changed.keys()) };
};

/** Looks for readings that the book has under other ids, after the texts were laid down. */
export const findTwins = async (
  store: Store,
  readings: readonly ArrivingReading[],
  known: ReadonlySet<string>,
): Promise<KnownTwins> => {
  const photos = new Set(
    (await store.read((db) => db.selectFrom('readings').select('photo').distinct().execute())).map(
      (row) => row.photo,
    ),
  );
  const of = new Map<string, ReadonlySet<string>>();
  for (const { given, line } of readings)
    if (line && !known.has(given.id) && photos.has(given.photo))
      of.set(given.id, await store.read((db) => sameTexts(db, given.id, given.photo)));
  return { of, known };
};

/** What two readings of one text must share to be one. */
const alike = (one: Line, other: Line): boolean =>
  one.purpose === other.purpose &&
  one.dyeId === other.dyeId &&
  one.clothId === other.clothId &&
  one.lightId === other.lightId &&
  one.exposedAt === other.exposedAt &&
  (one.supersedesId ?? null) === (other.supersedesId ?? null);

/** A reading never changes; only what is said of it and whether it is put away can be newer. */
export const mergeReadings = async (
  db: Db,
  readings: readonly ArrivingReading[],
  twins: KnownTwins,
  ids: Ids,
  merged: Merged,
): Promise<void> => {
  const here = await db
    .selectFrom('readings')
    .select([
      'id',
      'changedAt',
      'photo',
      'purpose',
      'dyeId',
      'clothId',
      'lightId',
      'exposedAt',
      'supersedesId',
    ])
    .orderBy('id')
    .execute();
  const byId = new Map(here.map((row) => [row.id, row]));
  const byPhoto = grouped(here, (row) => row.photo);
  const fresh: Line[] = [];
  const spare: string[] = [];
  for (const { given, line } of readings) {
    const same = byId.get(given.id);
    if (line === null || (same && String(line.changedAt) <= same.changedAt)) {
      merged.known += 1;
      continue;
    }
    if (same) {
      const { changedAt, putAwayAt, remark, remarkKey } = line;
      await db
        .updateTable('readings')
        .set({ changedAt, putAwayAt: putAwayAt ?? null, remark, remarkKey })
        .where('id', '=', given.id)
        .execute();
      merged.renewed += 1;
      continue;
    }
    const moved: Line = {
      ...line,
      ...place(ids, given),
      cardId: orNull(ids, given.cardId),
      planId: orNull(ids, given.planId),
      supersedesId: orNull(ids, given.supersedesId),
    };
    const near = (byPhoto.get(given.photo) ?? []).filter((row) => alike(row as Line, moved));
    // Only what was kept while the archive was looked through is compared here.
    const later = near.some((row) => !twins.known.has(row.id))
      ? await sameTexts(db, given.id, given.photo)
      : null;
    const words = later ?? twins.of.get(given.id);
    const twin = unspoken(
      ids,
      near.filter((row) => words?.has(row.id)),
    );
    if (twin) {
      standFor(ids, given.id, twin);
      spare.push(given.id);
      merged.known += 1;
    } else fresh.push(moved);
  }
  await insertAll(db, 'readings', fresh);
  add(merged, 'readings', fresh.length);
  for (let i = 0; i < spare.length; i += 100)
    await db
      .deleteFrom('readingBodies')
      .where('readingId', 'in', spare.slice(i, i + 100))
      .execute();
};
