import { phrase } from '../../analysis/phrases.ts';
import type { Analyst } from '../analyst.ts';
import { Refusal } from '../refusal.ts';
import type { Store } from '../store/openStore.ts';

/** What every action on the book works with. */
export interface Desk {
  readonly store: Store;
  readonly analyst: Pick<Analyst, 'read'>;
  /** The moment; given, so that tests can set it. */
  readonly now: () => Date;
}

/** @throws Refusal `not-found`. */
export const found = <T>(row: T | undefined, what: string): T => {
  if (row !== undefined) return row;
  throw new Refusal('not-found', `There is no such ${what} in the book. Load the list again.`, {
    phrase: phrase('not-in-book', { what }),
  });
};
