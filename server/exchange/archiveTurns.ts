import { setImmediate as turn } from 'node:timers/promises';
import { CompiledQuery, type Kysely, type Transaction } from 'kysely';
import type { Tables } from '../store/schema.ts';

/** What came of every row, as it is counted for the answer. */
export interface Merged {
  readonly added: Record<string, number>;
  known: number;
  renewed: number;
  readonly renamed: { readonly from: string; readonly to: string }[];
}

export type Db = Transaction<Tables>;
export type Loose = Record<string, string | number | null>;

/** Which rows of the book stand for rows of the archive. */
export interface Ids {
  /** Id in the archive → id here, where they differ. */
  readonly map: Map<string, string>;
  /** Rows that stand for one of the archive: a row that says the same as two others is still one row. */
  readonly spoken: Set<string>;
}

/** The first of these rows that nothing in the archive stands for yet. */
export const unspoken = ({ spoken }: Ids, rows: readonly { readonly id: string }[]): string | undefined =>
  rows.find((row) => !spoken.has(row.id))?.id;

export const standFor = ({ map, spoken }: Ids, id: string, here: string): void => {
  map.set(id, here);
  spoken.add(here);
};

export const to = (ids: Ids, id: string): string => ids.map.get(id) ?? id;
export const orNull = (ids: Ids, id: string | null): string | null => (id === null ? null : to(ids, id));

export const place = (
  ids: Ids,
  row: { dyeId: string; clothId: string; lightId: string; batchId: string | null },
) => ({
  dyeId: to(ids, row.dyeId),
  clothId: to(ids, row.clothId),
  lightId: to(ids, row.lightId),
  batchId: orNull(ids, row.batchId),
});

export const add = (merged: Merged, kind: string, count = 1): void => {
  if (count > 0) merged.added[kind] = (merged.added[kind] ?? 0) + count;
};

/** What a row says, to look rows up by it. */
export const said = (row: Loose, columns: readonly string[]): string =>
  JSON.stringify(columns.map((column) => row[column] ?? null));

export const grouped = <T>(
  rows: readonly T[],
  keyOf: (row: T) => string,
): ReadonlyMap<string, readonly T[]> => {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(keyOf(row));
    if (group) group.push(row);
    else groups.set(keyOf(row), [row]);
  }
  return groups;
};

const ROWS_AT_ONCE = 100;

/** The statement that inserts so many rows, written once for all groups of a size: writing it costs more than running it. */
const insertText = (db: Db, table: keyof Tables, rows: readonly object[], skip: string | undefined): string =>
  (db as unknown as Kysely<Record<string, Record<string, unknown>>>)
    .insertInto(table)
    .values(rows as never)
    .$if(skip !== undefined, (q) => q.onConflict((c) => c.column(skip as never).doNothing()))
    .compile().sql;

/**
 * Inserts rows of one table, which all have the same columns, a hundred in a statement. Between two statements the thread
 * is free for others: SQLite works on it, and a page that is open elsewhere should not stand still.
 *
 * @returns how many were not there before; only with `skip` fewer than were given.
 */
export const insertAll = async (
  db: Db,
  table: keyof Tables,
  rows: readonly object[],
  skip?: string,
): Promise<number> => {
  const [first] = rows;
  if (first === undefined) return 0;
  const columns = Object.keys(first);
  const texts = new Map<number, string>();
  let count = 0;
  for (let i = 0; i < rows.length; i += ROWS_AT_ONCE) {
    const group = rows.slice(i, i + ROWS_AT_ONCE);
    const text = texts.get(group.length) ?? insertText(db, table, group, skip);
    texts.set(group.length, text);
    const values = group.flatMap((row) => columns.map((column) => (row as Loose)[column]));
    const { numAffectedRows } = await db.executeQuery(CompiledQuery.raw(text, values));
    count += Number(numAffectedRows ?? 0);
    await turn();
  }
  return count;
};
