import { randomUUID } from 'node:crypto';
import type { Insertable, Kysely, Selectable, Transaction } from 'kysely';
import type { z } from 'zod';
import type {
  Batch,
  batchFields,
  Cloth,
  cardFields,
  clothFields,
  Dye,
  dyeFields,
  Light,
  lightFields,
  planFields,
  RecordCard,
  RecordPlan,
} from '../contracts/recordThings.ts';
import type { Tables } from '../store/schema.ts';
import { type Desk, found } from './bookDesk.ts';
import { moment } from './moment.ts';
import { nameKey } from './nameKey.ts';

/** The kinds of things that a printer names, as tables. */
export type ThingTable = 'dyes' | 'cloths' | 'lights' | 'batches' | 'cards' | 'plans';

interface Kinds {
  readonly dyes: { readonly row: Dye; readonly fields: z.infer<typeof dyeFields> };
  readonly cloths: { readonly row: Cloth; readonly fields: z.infer<typeof clothFields> };
  readonly lights: { readonly row: Light; readonly fields: z.infer<typeof lightFields> };
  readonly batches: { readonly row: Batch; readonly fields: z.infer<typeof batchFields> };
  readonly cards: { readonly row: RecordCard; readonly fields: z.infer<typeof cardFields> };
  readonly plans: { readonly row: RecordPlan; readonly fields: z.infer<typeof planFields> };
}

export type ThingOf<T extends ThingTable> = Kinds[T]['row'];
export type FieldsOf<T extends ThingTable> = Kinds[T]['fields'];

export const WORD: Readonly<Record<ThingTable, string>> = {
  dyes: 'dye',
  cloths: 'cloth',
  lights: 'light',
  batches: 'batch',
  cards: 'card',
  plans: 'plan',
};

/** Fields as columns: what is an object goes as JSON, a name gets its key, a moment its one form. */
const asColumns = (table: ThingTable, fields: object): Record<string, unknown> => {
  const { card, seconds, plan, mixedAt, ...rest } = fields as Record<string, unknown>;
  return {
    ...rest,
    ...(card !== undefined && { cardJson: JSON.stringify(card) }),
    ...(seconds !== undefined && { secondsJson: JSON.stringify(seconds) }),
    ...(plan !== undefined && { planJson: JSON.stringify(plan) }),
    ...(typeof mixedAt === 'string' && { mixedAt: moment(mixedAt) }),
    ...(typeof rest.name === 'string' && table !== 'plans' && { nameKey: nameKey(rest.name) }),
  };
};

const asThing = <T extends ThingTable>(row: Selectable<Tables[T]>): ThingOf<T> => {
  const { nameKey: _, cardJson, secondsJson, planJson, ...rest } = row as Record<string, unknown>;
  return {
    ...rest,
    ...(typeof cardJson === 'string' && { card: JSON.parse(cardJson) }),
    ...(typeof secondsJson === 'string' && { seconds: JSON.parse(secondsJson) }),
    ...(typeof planJson === 'string' && { plan: JSON.parse(planJson) }),
  } as ThingOf<T>;
};

// The tables share these columns, which the type of a union of tables does not show.
const shared = (db: Kysely<Tables>, table: ThingTable) =>
  ({ db: db as unknown as Kysely<Record<ThingTable, Tables['dyes']>>, table }) as const;

/** Things of one kind by name; those put away only when asked for. */
export const listThings = async <T extends ThingTable>(
  { store }: Desk,
  kind: T,
  { away, limit, offset }: { readonly away: boolean; readonly limit: number; readonly offset: number },
): Promise<{ readonly rows: readonly ThingOf<T>[]; readonly total: number }> =>
  store.read(async (all) => {
    const { db, table } = shared(all, kind);
    const wanted = db.selectFrom(table).$if(!away, (q) => q.where('putAwayAt', 'is', null));
    const { total } = await wanted
      .select((e) => e.fn.countAll<number | string>().as('total'))
      .executeTakeFirstOrThrow();
    const rows = await wanted
      .selectAll()
      .orderBy(kind === 'plans' ? 'createdAt' : ('nameKey' as never), kind === 'plans' ? 'desc' : 'asc')
      .orderBy('id')
      .limit(limit)
      .offset(offset)
      .execute();
    return { rows: rows.map((row) => asThing<T>(row as never)), total: Number(total) };
  });

/** @throws Refusal `not-found`. */
export const thingById = async <T extends ThingTable>(
  all: Kysely<Tables>,
  kind: T,
  id: string,
): Promise<ThingOf<T>> => {
  const { db, table } = shared(all, kind);
  const row = await db.selectFrom(table).selectAll().where('id', '=', id).executeTakeFirst();
  return asThing<T>(found(row, WORD[kind]) as never);
};

/** The thing of this name, put away or not; null where there is none. */
export const thingByName = async <T extends Exclude<ThingTable, 'plans'>>(
  all: Kysely<Tables>,
  kind: T,
  name: string,
): Promise<ThingOf<T> | null> => {
  const { db, table } = shared(all, kind);
  const row = await db.selectFrom(table).selectAll().where('nameKey', '=', nameKey(name)).executeTakeFirst();
  return row ? asThing<T>(row as never) : null;
};

/** @throws Refusal `book-conflict` where the book has one of this name. */
export const makeThing = async <T extends ThingTable>(
  { store, now }: Desk,
  kind: T,
  { id = randomUUID(), ...fields }: FieldsOf<T> & { readonly id?: string },
): Promise<ThingOf<T>> => {
  const at = moment(now());
  return store.write(async (all) => {
    const { db, table } = shared(all, kind);
    await db
      .insertInto(table)
      .values({ id, createdAt: at, changedAt: at, putAwayAt: null, ...asColumns(kind, fields) } as never)
      .execute();
    return thingById(all, kind, id);
  });
};

/** @throws Refusal `not-found`, `book-conflict`. */
export const changeThing = async <T extends ThingTable>(
  { store, now }: Desk,
  kind: T,
  id: string,
  fields: Partial<FieldsOf<T>>,
): Promise<ThingOf<T>> =>
  store.write(async (all) => {
    const { db, table } = shared(all, kind);
    await db
      .updateTable(table)
      .set({ changedAt: moment(now()), ...asColumns(kind, fields) } as never)
      .where('id', '=', id)
      .execute();
    return thingById(all, kind, id);
  });

/** The thing of this name, made where the book has none and brought back where it was put away. */
export const findOrMake = async <T extends 'dyes' | 'cloths' | 'lights'>(
  trx: Transaction<Tables>,
  kind: T,
  fields: FieldsOf<T>,
  at: string,
): Promise<ThingOf<T>> => {
  const { db, table } = shared(trx, kind);
  const row = { id: randomUUID(), createdAt: at, changedAt: at, putAwayAt: null, ...asColumns(kind, fields) };
  await db
    .insertInto(table)
    .values(row as unknown as Insertable<Tables['dyes']>)
    .onConflict((c) => c.column('nameKey').doNothing())
    .execute();
  const thing = await thingByName(trx, kind, fields.name);
  const there = found(thing ?? undefined, WORD[kind]);
  if (there.putAwayAt === null) return there;
  await db
    .updateTable(table)
    .set({ putAwayAt: null, changedAt: at } as never)
    .where('id', '=', there.id)
    .execute();
  return { ...there, putAwayAt: null, changedAt: at };
};
