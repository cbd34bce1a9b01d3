import { type Kysely, sql } from 'kysely';
import type { Tables } from '../store/schema.ts';

/**
 * Queries that may ask for `replaced`: the ids of readings that a later one stands in for, be it over others between them
 * that were put away.
 */
export const withReplaced = (db: Kysely<Tables>) =>
  db.withRecursive('replaced(id)', (q) =>
    q
      .selectFrom('readings as later')
      .select((e) => e.ref('later.supersedesId').$notNull().as('id'))
      .where('later.supersedesId', 'is not', null)
      // Written so that the few that supersede are looked up, and not the many that are not put away.
      .where(sql`coalesce(later."putAwayAt", '')`, '=', '')
      // Each once, however many follow it.
      .union(
        q
          .selectFrom('replaced')
          .innerJoin('readings as between', 'between.id', 'replaced.id')
          .select((e) => e.ref('between.supersedesId').$notNull().as('id'))
          .where('between.supersedesId', 'is not', null),
      ),
  );

interface Later {
  readonly id: string;
  readonly supersedesId: string | null;
  readonly putAwayAt: string | null;
}

/** The latest reading that stands in for each of these, for those that have one; those put away are passed over. */
export const standInsOf = async (
  db: Kysely<Tables>,
  ids: readonly string[],
): Promise<ReadonlyMap<string, string>> => {
  const found = new Map<string, string>();
  // Which of the asked are looked for after which reading; a reading only ever follows one that was there before it.
  let open = new Map(ids.map((id) => [id, [id]]));
  while (open.size > 0) {
    const laters: readonly Later[] = await db
      .selectFrom('readings')
      .select(['id', 'supersedesId', 'putAwayAt'])
      .where('supersedesId', 'in', [...open.keys()])
      .orderBy('readAt', 'desc')
      .orderBy('id')
      .execute();
    const next = new Map<string, string[]>();
    for (const { id, supersedesId, putAwayAt } of laters) {
      const asked = (open.get(supersedesId ?? '') ?? []).filter((origin) => !found.has(origin));
      if (putAwayAt !== null) next.set(id, asked);
      else for (const origin of asked) found.set(origin, id);
    }
    open = next;
  }
  return found;
};
