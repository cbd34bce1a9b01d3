import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { z } from 'zod';
import type { BookAnswer, Note, noteFields, RowKind, RowState } from '../contracts/recordUse.ts';
import type { Tables } from '../store/schema.ts';
import { type Desk, found } from './bookDesk.ts';
import { moment } from './moment.ts';

/** Where rows of each kind lie. */
const TABLE_OF = {
  dye: 'dyes',
  cloth: 'cloths',
  light: 'lights',
  batch: 'batches',
  card: 'cards',
  plan: 'plans',
  reading: 'readings',
  control: 'controls',
  print: 'prints',
  note: 'notes',
} as const satisfies Record<RowKind, keyof Tables>;

export const ROW_KINDS = Object.keys(TABLE_OF) as readonly RowKind[];

// All these tables have the columns of a row, which the type of a union of tables does not show.
const rowsOf = (db: Kysely<Tables>, kind: RowKind) =>
  ({
    db: db as unknown as Kysely<Record<(typeof TABLE_OF)[RowKind], Tables['dyes']>>,
    table: TABLE_OF[kind],
  }) as const;

/**
 * Puts a row away (it is no longer listed, chosen or counted with) or brings it back.
 *
 * @throws Refusal `not-found`.
 */
export const setPutAway = async (
  { store, now }: Desk,
  { kind, id }: { readonly kind: RowKind; readonly id: string },
  putAway: boolean,
): Promise<RowState> => {
  const at = moment(now());
  return store.write(async (all) => {
    const { db, table } = rowsOf(all, kind);
    const row = found(
      await db.selectFrom(table).select('putAwayAt').where('id', '=', id).executeTakeFirst(),
      kind,
    );
    if ((row.putAwayAt !== null) === putAway) return { kind, id, putAwayAt: row.putAwayAt };
    const putAwayAt = putAway ? at : null;
    await db.updateTable(table).set({ putAwayAt, changedAt: at }).where('id', '=', id).execute();
    return { kind, id, putAwayAt };
  });
};

const asNote = ({ onKind, onId, ...rest }: Tables['notes']): Note => ({
  ...rest,
  on: { kind: onKind as Note['on']['kind'], id: onId },
});

/** Writes a note on a row. @throws Refusal `not-found`. */
export const writeNote = async (
  { store, now }: Desk,
  { on, text }: z.infer<typeof noteFields>,
): Promise<Note> => {
  const at = moment(now());
  return store.write(async (all) => {
    const { db, table } = rowsOf(all, on.kind);
    found(await db.selectFrom(table).select('id').where('id', '=', on.id).executeTakeFirst(), on.kind);
    const row = {
      id: randomUUID(),
      createdAt: at,
      changedAt: at,
      putAwayAt: null,
      onKind: on.kind,
      onId: on.id,
      text,
    };
    await all.insertInto('notes').values(row).execute();
    return asNote(row);
  });
};

/** Notes on a row, oldest first. */
export const listNotes = async (
  { store }: Desk,
  { kind, id, away }: { readonly kind: RowKind; readonly id: string; readonly away: boolean },
): Promise<readonly Note[]> =>
  store.read(async (db) => {
    const rows = await db
      .selectFrom('notes')
      .selectAll()
      .where('onKind', '=', kind)
      .where('onId', '=', id)
      .$if(!away, (q) => q.where('putAwayAt', 'is', null))
      .orderBy('createdAt')
      .orderBy('id')
      .execute();
    return rows.map(asNote);
  });

/** How much is in the book; rows put away are counted as well. */
export const countRows = async ({ store }: Desk): Promise<Omit<BookAnswer, 'place'>> =>
  store.read(async (all) => {
    const counts: Partial<Record<RowKind, number>> = {};
    for (const kind of ROW_KINDS) {
      const { db, table } = rowsOf(all, kind);
      const { n } = await db
        .selectFrom(table)
        .select((e) => e.fn.countAll<number | string>().as('n'))
        .executeTakeFirstOrThrow();
      counts[kind] = Number(n);
    }
    const { n, bytes } = await all
      .selectFrom('photos')
      .select((e) => [
        e.fn.countAll<number | string>().as('n'),
        e.fn.sum<number | string | null>('bytes').as('bytes'),
      ])
      .executeTakeFirstOrThrow();
    return {
      database: store.database,
      counts: counts as Record<RowKind, number>,
      photos: Number(n),
      photoBytes: Number(bytes ?? 0),
    };
  });
