import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import { type ExpressionBuilder, type Insertable, sql, type Transaction } from 'kysely';
import { Refusal } from '../refusal.ts';
import type { Store } from '../store/openStore.ts';
import type { PhotoStage } from '../store/photoFolder.ts';
import type { Tables } from '../store/schema.ts';

type Body = Insertable<Tables['readingBodies']>;

/**
 * What an archive lays down before it comes in: photos aside, texts of readings without their rows. Nothing of it shows,
 * and the write lock is held for a moment at a time.
 */
export interface Arrival {
  /** Lays a photo aside. */
  photo(bytes: Uint8Array): Promise<string>;
  /** Lays the texts of a reading down; many go in one transaction. */
  body(body: Body): Promise<void>;
  /** Lays down what is still at hand, and puts the photos among the others: after this only rows are missing. */
  ready(): Promise<void>;
  /** First thing of the transaction that brings the rows. @throws Refusal `book-busy` where another took the turn. */
  confirm(db: Transaction<Tables>): Promise<void>;
  /** Last thing of the transaction that brings the rows. */
  finish(db: Transaction<Tables>): Promise<void>;
  /** After the rows have come. */
  close(): Promise<void>;
  /** Takes everything away again that has no row; for whatever reason the rows did not come. */
  undo(): Promise<void>;
}

const NAME = 'archive';
/** An arrival that was not heard of for so long is taken for dead. */
const SILENT_MS = 120_000;
const LOOK_AGAIN_MS = 200;
const BODY_BYTES = 1_000_000;
const IDS_AT_ONCE = 200;

export const inGroups = <T>(all: readonly T[], most: number): readonly (readonly T[])[] =>
  Array.from({ length: Math.ceil(all.length / most) }, (_, i) => all.slice(i * most, (i + 1) * most));

const holder = (): string => `${hostname()} ${process.pid}`;

/** Does the process still run? Only of this machine can that be known; of others it is believed. */
const lives = (who: string): boolean => {
  const [machine, pid] = who.split(' ');
  if (machine !== hostname()) return true;
  try {
    process.kill(Number(pid), 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** Takes away texts of readings whose rows never came. */
const sweep = async (store: Store): Promise<void> => {
  const orphaned = (e: ExpressionBuilder<Tables, 'readingBodies'>) =>
    e.not(
      e.exists(
        e
          .selectFrom('readings')
          .select('readings.id')
          .whereRef('readings.id', '=', 'readingBodies.readingId'),
      ),
    );
  const left = await store.read((db) =>
    db.selectFrom('readingBodies').select('readingId').where(orphaned).execute(),
  );
  for (const rows of inGroups(left, 50)) {
    const ids = rows.map((row) => row.readingId);
    await store.write((db) =>
      db.deleteFrom('readingBodies').where('readingId', 'in', ids).where(orphaned).execute(),
    );
  }
};

/** Takes the turn; false while another archive is on its way in. Of two that ask at the same moment one gets it. */
const claim = (store: Store, arrival: string): Promise<boolean> =>
  store.write(async (db) => {
    const now = new Date();
    const row = { arrival, holder: holder(), at: now.toISOString() };
    const { numInsertedOrUpdatedRows } = await db
      .insertInto('arrivals')
      .values({ name: NAME, ...row })
      .onConflict((c) => c.column('name').doNothing())
      .executeTakeFirst();
    if (Number(numInsertedOrUpdatedRows ?? 0) === 1) return true;
    const other = await db.selectFrom('arrivals').selectAll().where('name', '=', NAME).executeTakeFirst();
    if (!other || (lives(other.holder) && now.getTime() - Date.parse(other.at) < SILENT_MS)) return false;
    const { numUpdatedRows } = await db
      .updateTable('arrivals')
      .set(row)
      .where('arrival', '=', other.arrival)
      .where('at', '=', other.at)
      .executeTakeFirst();
    return Number(numUpdatedRows) === 1;
  });

const takenOver = (): Refusal =>
  new Refusal(
    'book-busy',
    'Bringing this archive in took so long that another one went first. Nothing was brought in; try again.',
    5,
  );

/** Photos that this archive brought and no row names. A row that is being written now waits, and looks after its photo. */
const removePhotos = async (store: Store, brought: readonly string[]): Promise<void> => {
  for (const group of inGroups(brought, IDS_AT_ONCE))
    await store.write(async (db) => {
      if (store.database === 'postgresql') await sql`lock table photos in exclusive mode`.execute(db);
      const rows = await db.selectFrom('photos').select('sha256').where('sha256', 'in', group).execute();
      const named = new Set(rows.map((row) => row.sha256));
      for (const sha256 of group) if (!named.has(sha256)) await store.photos.remove(sha256);
    });
};

/**
 * Begins to bring an archive in. One comes in at a time; another waits for `patienceMs`.
 *
 * @throws Refusal `book-busy`, and those of the store.
 */
export const beginArrival = async (store: Store, patienceMs = 10_000): Promise<Arrival> => {
  const arrival = randomUUID();
  const until = Date.now() + patienceMs;
  while (!(await claim(store, arrival))) {
    if (Date.now() >= until)
      throw new Refusal(
        'book-busy',
        'Another archive is being brought into this book. Wait until it is done, then try again.',
        10,
      );
    await pause(LOOK_AGAIN_MS);
  }
  await sweep(store);
  const stage: PhotoStage = await store.photos.stage();
  const brought: string[] = [];
  let bodies: Body[] = [];
  let bytes = 0;
  let heard = Date.now();

  const confirm = async (db: Transaction<Tables>): Promise<void> => {
    const { numUpdatedRows } = await db
      .updateTable('arrivals')
      .set({ at: new Date().toISOString() })
      .where('arrival', '=', arrival)
      .executeTakeFirst();
    if (Number(numUpdatedRows) !== 1) throw takenOver();
    heard = Date.now();
  };
  const layDown = async (): Promise<void> => {
    const group = bodies;
    bodies = [];
    bytes = 0;
    if (group.length === 0) return;
    await store.write(async (db) => {
      await confirm(db);
      await db
        .insertInto('readingBodies')
        .values(group)
        .onConflict((c) => c.column('readingId').doNothing())
        .execute();
    });
  };
  const beat = async (): Promise<void> => {
    if (Date.now() - heard > SILENT_MS / 8) await store.write(confirm);
  };

  return {
    async photo(photo) {
      await beat();
      const sha256 = await stage.keep(photo);
      brought.push(sha256);
      return sha256;
    },
    async body(body) {
      bodies.push(body);
      bytes += body.readingJson.length + body.settingsJson.length;
      if (bytes >= BODY_BYTES) await layDown();
    },
    async ready() {
      await layDown();
      await stage.takeIn();
      await beat();
    },
    confirm,
    async finish(db) {
      await db.deleteFrom('arrivals').where('arrival', '=', arrival).execute();
    },
    close: () => stage.drop(),
    async undo() {
      await stage.drop();
      const ours = await store.read((db) =>
        db.selectFrom('arrivals').select('name').where('arrival', '=', arrival).executeTakeFirst(),
      );
      // Where another took the turn it has swept already, and may have laid the same down.
      if (!ours) return;
      await removePhotos(store, brought);
      await sweep(store);
      await store.write((db) => db.deleteFrom('arrivals').where('arrival', '=', arrival).execute());
    },
  };
};
