import { sql } from 'kysely';
import { Refusal } from '../refusal.ts';
import type { Store } from './openStore.ts';

/** What was found when book and photos were held against each other. */
export interface StoreCheck {
  /** The database's own check found nothing. */
  readonly sound: boolean;
  readonly photos: number;
  /** Photos that a row names and the folder has not, or no longer as they were. */
  readonly lost: readonly string[];
  /** Files that no row names: left by a crash between file and row; harmless. */
  readonly spare: number;
}

/** Is the database sound, and does every row have its photo, byte for byte? Reads every photo. */
export const checkStore = async (store: Store): Promise<StoreCheck> => {
  const sound =
    store.database === 'postgresql'
      ? true
      : await store.read(async (db) => {
          const whole = await sql<{ integrity_check: string }>`pragma integrity_check`.execute(db);
          const keys = await sql`pragma foreign_key_check`.execute(db);
          return whole.rows[0]?.integrity_check === 'ok' && keys.rows.length === 0;
        });
  const rows = await store.read((db) => db.selectFrom('photos').select('sha256').execute());
  const named = new Set(rows.map((row) => row.sha256));
  const lost: string[] = [];
  for (const sha256 of named)
    try {
      await store.photos.read(sha256);
    } catch (error) {
      if (!(error instanceof Refusal) || error.code !== 'photo-lost') throw error;
      lost.push(sha256);
    }
  const files = await store.photos.list();
  return { sound, photos: named.size, lost, spare: files.filter((name) => !named.has(name)).length };
};
