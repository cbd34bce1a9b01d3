import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { AnalysisError, type AnalysisErrorCode } from '../../analysis/errors.ts';
import { CommandError } from './command.ts';

/** npm runs scripts in the package's folder; a person means paths from where they typed the command. */
export const located = (path: string): string => {
  const here = resolve(path);
  const typedIn = process.env.INIT_CWD;
  if (existsSync(here) || !typedIn) return here;
  return resolve(typedIn, path);
};

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
  EACCES: 'reading it is not allowed',
  EPERM: 'reading it is not allowed',
};

/** The refusal of a file that the system would not read, naming the path as it was typed; null for other errors. */
export const unreadable = (path: string, cause: unknown): CommandError | null => {
  const reason = REASONS[(cause as NodeJS.ErrnoException).code ?? ''];
  return reason === undefined ? null : new CommandError('file-unreadable', `Can't read ${path}: ${reason}.`);
};

/** @throws CommandError `file-unreadable`, naming the path as it was typed. */
export const readBytes = async (path: string): Promise<Uint8Array> => {
  try {
    return await readFile(located(path));
  } catch (cause) {
    throw (
      unreadable(path, cause) ??
      new CommandError('file-unreadable', `Can't read ${path}: the file could not be opened.`)
    );
  }
};

/** @throws CommandError `file-unreadable`; an error of the given code where the file is not JSON. */
export const readJson = async (path: string, code: AnalysisErrorCode | 'file-invalid'): Promise<unknown> => {
  const text = new TextDecoder().decode(await readBytes(path)).replace(/^\uFEFF/, '');
  try {
    return JSON.parse(text);
  } catch (cause) {
    // The parser quotes the text itself after the first comma; the place is enough.
    const what = (cause as Error).message.replace(/,? (?:\.{3})?".*$/s, '');
    const message = `${path} is not valid JSON: ${what || 'it is empty'}.`;
    throw code === 'file-invalid'
      ? new CommandError(code, message)
      : new AnalysisError(code, message, { cause });
  }
};
