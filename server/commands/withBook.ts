import { performRead } from '../perform.ts';
import { createBook } from '../record/book.ts';
import type { Desk } from '../record/bookDesk.ts';
import { dataFolder } from '../store/dataFolder.ts';

/** Runs with the book of this person open, and closes it. */
export const withBook = async <T>(job: (desk: Desk) => Promise<T>): Promise<T> => {
  const book = createBook({
    folder: dataFolder(),
    databaseUrl: process.env.TONESTEP_DATABASE || undefined,
    analyst: { read: performRead },
  });
  try {
    return await job(await book.desk());
  } finally {
    await book.close();
  }
};
