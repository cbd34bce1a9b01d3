import type { Desk } from '../record/bookDesk.ts';
import { CommandError } from './command.ts';

/** The beginning of an id must be this long to count. */
const SHORTEST = 4;

const WORDS = {
  readings: { one: 'reading', list: 'tonestep book', first: 'tonestep keep PHOTO' },
  prints: { one: 'print', list: 'tonestep made', first: 'tonestep made --time TIME' },
} as const;

/**
 * The id of a row in the book from its beginning, or from the word "latest".
 *
 * @throws CommandError `usage` where none or several begin so.
 */
const fullRowId = async ({ store }: Desk, table: keyof typeof WORDS, text: string): Promise<string> => {
  const { one, list, first } = WORDS[table];
  const start = text.trim().toLowerCase();
  if (start === 'latest') {
    const row = await store.read((db) =>
      db
        .selectFrom(table)
        .select('id')
        .where('putAwayAt', 'is', null)
        .orderBy('createdAt', 'desc')
        .orderBy('id')
        .limit(1)
        .executeTakeFirst(),
    );
    if (row) return row.id;
    throw new CommandError('usage', `The book has no ${one} yet: ${first}`);
  }
  if (start.length < SHORTEST || !/^[0-9a-f-]+$/.test(start))
    throw new CommandError(
      'usage',
      `"${text}" is no id of a ${one}. Give the first ${SHORTEST} characters or more as "${list}" shows them, or "latest"`,
    );
  const rows = await store.read((db) =>
    db.selectFrom(table).select('id').where('id', 'like', `${start}%`).limit(2).execute(),
  );
  if (rows.length === 1) return rows[0].id;
  throw new CommandError(
    'usage',
    rows.length === 0
      ? `The book has no ${one} whose id begins with "${text}"`
      : `Several ${one}s begin with "${text}": give more of the id`,
  );
};

/** The id of a kept reading from its beginning, or from "latest". @throws CommandError `usage`. */
export const fullReadingId = (desk: Desk, text: string): Promise<string> => fullRowId(desk, 'readings', text);

/** The id of a print from its beginning, or from "latest". @throws CommandError `usage`. */
export const fullPrintId = (desk: Desk, text: string): Promise<string> => fullRowId(desk, 'prints', text);
