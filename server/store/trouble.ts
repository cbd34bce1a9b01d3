import { phrase } from '../../analysis/phrases.ts';
import { Refusal } from '../refusal.ts';

/** SQLite result codes, PostgreSQL SQLSTATE classes and system errors, by what a printer can do about them. */
const KINDS = {
  full: /^(?:SQLITE_FULL|ENOSPC|EDQUOT|EFBIG|53100)$/,
  readOnly: /^(?:SQLITE_READONLY.*|EROFS|EACCES|EPERM|25006|42501)$/,
  busy: /^(?:SQLITE_BUSY.*|SQLITE_LOCKED.*|SQLITE_PROTOCOL|40001|40P01|55P03)$/,
  taken: /^(?:SQLITE_CONSTRAINT_UNIQUE|SQLITE_CONSTRAINT_PRIMARYKEY|23505)$/,
  unknownRow: /^(?:SQLITE_CONSTRAINT_FOREIGNKEY|23503)$/,
  damaged: /^(?:SQLITE_CORRUPT.*|SQLITE_NOTADB)$/,
  away: /^(?:SQLITE_CANTOPEN.*|SQLITE_IOERR.*|ECONNREFUSED|ECONNRESET|ENOTFOUND|ETIMEDOUT|EHOSTUNREACH|EPIPE|EIO|ENOTDIR|EISDIR|EEXIST|ENOENT|ENAMETOOLONG|ELOOP|08...|28...|3D000|57P..|53300)$/,
} as const;

type Kind = keyof typeof KINDS;

const codeOf = (error: unknown): string => {
  const code = (error as { readonly code?: unknown } | null)?.code;
  return typeof code === 'string' ? code : '';
};

/** What kind of trouble with disk or database an error is; null where it is none. */
export const troubleOf = (error: unknown): Kind | null => {
  const code = codeOf(error);
  const found = (Object.keys(KINDS) as Kind[]).find((kind) => KINDS[kind].test(code));
  if (found) return found;
  // The driver of PostgreSQL has no code for a connection that broke or took too long.
  return error instanceof Error &&
    /^(?:Connection terminated|Client has encountered a connection error|timeout (?:exceeded|expired))/.test(
      error.message,
    )
    ? 'away'
    : null;
};

const REFUSALS: Readonly<Record<Kind, () => Refusal>> = {
  full: () =>
    new Refusal(
      'disk-full',
      'The disk that holds the book is full. Nothing was kept of this, and nothing that was kept before is lost. Make room, then try again.',
    ),
  readOnly: () =>
    new Refusal(
      'book-read-only',
      'The book can not be written: its folder or database is read-only. Nothing was lost. Make the data folder writable for you, or choose another with TONESTEP_DATA.',
    ),
  busy: () =>
    new Refusal('book-busy', 'Another program is writing in the book. Try again in a few seconds.', 3),
  taken: () =>
    new Refusal(
      'book-conflict',
      'The book has one of this name already. Use that one, or choose another name.',
      { phrase: phrase('name-taken', {}) },
    ),
  unknownRow: () =>
    new Refusal('book-conflict', 'This names something that is not in the book. Load the list again.', {
      phrase: phrase('names-nothing', {}),
    }),
  damaged: () =>
    new Refusal(
      'book-unavailable',
      'The file of the book is damaged or is no book. Keep it aside, and restore the latest backup: tonestep restore.',
    ),
  away: () =>
    new Refusal(
      'book-unavailable',
      'The database of the book can not be reached. See that its disk or server is there, then try again.',
      5,
    ),
};

/** An error of disk or database as a refusal with a next step, without paths or addresses; any other error as it is. */
export const asRefusal = (error: unknown): unknown => {
  if (error instanceof Refusal) return error;
  const kind = troubleOf(error);
  if (kind === null) return error;
  const refusal = REFUSALS[kind]();
  refusal.cause = error;
  return refusal;
};
