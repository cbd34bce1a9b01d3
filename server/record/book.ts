import type { Analyst } from '../analyst.ts';
import { openStore, type Store } from '../store/openStore.ts';
import type { Desk } from './bookDesk.ts';

/** The book of a running program: opened when first needed, and tried again where that failed. */
export interface Book {
  /** @throws Refusal where the book can't be opened just now. */
  desk(): Promise<Desk>;
  /** The data folder; for this machine's eyes only. */
  readonly folder: string;
  close(): Promise<void>;
}

export interface BookOptions {
  readonly folder: string;
  readonly databaseUrl?: string | undefined;
  readonly analyst: Pick<Analyst, 'read'>;
  readonly now?: () => Date;
}

export const createBook = ({ folder, databaseUrl, analyst, now = () => new Date() }: BookOptions): Book => {
  let opening: Promise<Store> | null = null;
  const store = (): Promise<Store> => {
    if (opening) return opening;
    const attempt = openStore({ folder, databaseUrl });
    opening = attempt;
    // A full disk or a server that was down may be put right without a restart.
    attempt.catch(() => {
      opening = null;
    });
    return attempt;
  };
  return {
    folder,
    desk: async () => ({ store: await store(), analyst, now }),
    close: async () => {
      const open = await opening?.catch(() => null);
      opening = null;
      await open?.close();
    },
  };
};
