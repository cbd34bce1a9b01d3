import { rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Analyst } from '../../server/analyst.ts';
import { type Book, createBook } from '../../server/record/book.ts';

const folders: string[] = [];
process.once('exit', () => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** A book in a folder of its own, made when first used and gone with the process. */
export const temporaryBook = (analyst: Pick<Analyst, 'read'>, now?: () => Date): Book => {
  const folder = join(tmpdir(), `tonestep-book-${crypto.randomUUID()}`);
  folders.push(folder);
  return createBook({ folder, analyst, ...(now && { now }) });
};
