import type { Desk } from '../record/bookDesk.ts';
import { CommandError } from './command.ts';

/** The beginning of an id must be this long to count. */
const SHORTEST = 4;

/**
 * The id of a kept reading from its beginning, or from the word "latest".
 *
 * @throws CommandError `usage` where none or several begin so.
 */
export const fullReadingId = async ({ store }: Desk, text: string): Promise<string> => {
  const start = text.trim().toLowerCase();
  if (start === 'latest') {
    const row = await store.read((db) =>
      db
        .selectFrom('readings')
        .select('id')
        .where('putAwayAt', 'is', null)
        .orderBy('createdAt', 'desc')
        .orderBy('id')
        .limit(1)
        .executeTakeFirst(),
    );
    if (row) return row.id;
    throw new CommandError('usage', 'The book has no reading yet: tonestep keep PHOTO');
  }
  if (start.length < SHORTEST || !/^[0-9a-f-]+$/.test(start))
    throw new CommandError(
      'usage',
      `"${text}" is no id of a reading. Give the first ${SHORTEST} characters or more as "tonestep book" shows them, or "latest"`,
    );
  const rows = await store.read((db) =>
    db.selectFrom('readings').select('id').where('id', 'like', `${start}%`).limit(2).execute(),
  );
  if (rows.length === 1) return rows[0].id;
  throw new CommandError(
    'usage',
    rows.length === 0
      ? `The book has no reading whose id begins with "${text}"`
      : `Several readings begin with "${text}": give more of the id`,
  );
};
