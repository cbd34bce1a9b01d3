import type { Kysely, Selectable } from 'kysely';
import type { UseQuery } from '../contracts/recordUse.ts';
import type { Tables } from '../store/schema.ts';

/** One page of what was exposed for use, controls or prints, newest exposure first; how many there are in all. */
export const usePage = async <T extends 'controls' | 'prints'>(
  db: Kysely<Tables>,
  table: T,
  query: UseQuery,
): Promise<{ readonly rows: readonly Selectable<Tables[T]>[]; readonly total: number }> => {
  // Both tables have the columns that are asked for here; the query builder types one table at a time.
  let wanted = db.selectFrom(table as 'controls').$if(!query.away, (q) => q.where('putAwayAt', 'is', null));
  for (const column of ['dyeId', 'clothId', 'lightId'] as const) {
    const id = query[column];
    if (id) wanted = wanted.where(column, '=', id);
  }
  const { n } = await wanted
    .select((e) => e.fn.countAll<number | string>().as('n'))
    .executeTakeFirstOrThrow();
  const rows = await wanted
    .selectAll()
    .orderBy('exposedAt', 'desc')
    .orderBy('id')
    .limit(query.limit)
    .offset(query.offset)
    .execute();
  return { rows: rows as unknown as Selectable<Tables[T]>[], total: Number(n) };
};
