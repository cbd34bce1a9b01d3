import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Refusal } from '../refusal.ts';
import { CommandError } from './command.ts';

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'its folder does not exist',
  EISDIR: 'it is a folder',
  ENOTDIR: 'its folder is a file',
  EACCES: 'writing there is not allowed',
  EPERM: 'writing there is not allowed',
  EROFS: 'writing there is not allowed',
  ENOSPC: 'the disk is full',
};

/** Where the person means it: npm runs scripts in the package's folder, not where they were typed. */
export const whereTyped = (path: string): string => resolve(process.env.INIT_CWD ?? '.', path);

/** The refusal of a file that the system would not write, naming the path as it was typed; other errors as they are. */
export const unwritable = (path: string, cause: unknown): unknown => {
  const code = (cause as NodeJS.ErrnoException).code;
  if (code === undefined || cause instanceof Refusal) return cause;
  return new CommandError(
    'file-unwritable',
    `Can't write ${path}: ${REASONS[code] ?? 'the file could not be made'}.`,
  );
};

/** @throws CommandError `file-unwritable`, naming the path as it was typed. */
export const writeBytes = async (path: string, bytes: Uint8Array): Promise<void> => {
  try {
    await writeFile(whereTyped(path), bytes);
  } catch (cause) {
    throw unwritable(path, cause);
  }
};
