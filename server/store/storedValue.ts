import { Refusal } from '../refusal.ts';

/** What a column can hold. */
export type StoredValue = string | number | bigint | null;

const refuse = (why: string): Refusal =>
  new Refusal('request-invalid', `This can't be written into the book: ${why}.`);

/**
 * Lets through only what both databases give back unchanged. The SQLite binding ends the process on a boolean, makes
 * NULL of NaN and cuts text at a NUL character; PostgreSQL refuses NUL; half characters become others in both.
 *
 * @throws Refusal `request-invalid`.
 */
export const storedValue = (value: unknown): StoredValue => {
  if (value === null || typeof value === 'bigint') return value;
  if (typeof value === 'number') {
    if (Number.isFinite(value)) return value;
    throw refuse(`${value} is no number that can be stored`);
  }
  if (typeof value === 'string') {
    if (value.includes('\0')) throw refuse('a text holds a NUL character');
    if (/\p{Cs}/u.test(value)) throw refuse('a text holds half a character');
    return value;
  }
  throw refuse(`a value of the type ${value === undefined ? 'undefined' : typeof value} has no column`);
};

/** All values of one statement. */
export const storedValues = (values: readonly unknown[]): StoredValue[] => values.map(storedValue);
