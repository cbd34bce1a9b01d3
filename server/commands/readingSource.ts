import { existsSync } from 'node:fs';
import type { Reading } from '../contracts/reading.ts';
import { keptRemarks } from '../exchange/reportOfKept.ts';
import { parseWholeReading } from '../exchange/wholeReading.ts';
import type { PaperWords } from '../papers/words/shape.ts';
import { keptReadingById } from '../record/keepReading.ts';
import { Refusal } from '../refusal.ts';
import { located, readJson } from './files.ts';
import { fullReadingId } from './rowId.ts';
import { withBook } from './withBook.ts';

/** A reading with what is known beside it, wherever it was kept. */
export interface ReadingSource {
  readonly reading: Reading;
  /** The photo, where the book has it. */
  readonly photo: Uint8Array | null;
  readonly remarks: (words: PaperWords) => readonly string[];
}

/**
 * The reading that a person names: a file of `read --json`, or a reading of the book by the beginning of its id or "latest".
 *
 * @throws CommandError `file-unreadable`, `file-invalid`, `usage`; Refusal of the book.
 */
export const readingSource = async (text: string): Promise<ReadingSource> => {
  if (/\.json$/i.test(text) || existsSync(located(text)))
    return {
      reading: parseWholeReading(text, await readJson(text, 'file-invalid')),
      photo: null,
      remarks: () => [],
    };
  return withBook(async (desk) => {
    const kept = await keptReadingById(desk, await fullReadingId(desk, text));
    const photo = await desk.store.photos.read(kept.line.photo).catch((error: unknown) => {
      if (error instanceof Refusal && error.code === 'photo-lost') return null;
      throw error;
    });
    return { reading: kept.reading, photo, remarks: (words) => keptRemarks(kept, words) };
  });
};
