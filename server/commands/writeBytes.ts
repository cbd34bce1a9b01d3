import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
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

/**
 * Writes a file where the person means it: npm runs scripts in the package's folder, not where they were typed.
 *
 * @throws CommandError `file-unwritable`, naming the path as it was typed.
 */
export const writeBytes = async (path: string, bytes: Uint8Array): Promise<void> => {
  try {
    await writeFile(resolve(process.env.INIT_CWD ?? '.', path), bytes);
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code ?? '';
    throw new CommandError(
      'file-unwritable',
      `Can't write ${path}: ${REASONS[code] ?? 'the file could not be made'}.`,
    );
  }
};
