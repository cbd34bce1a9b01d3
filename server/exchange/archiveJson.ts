import type { z } from 'zod';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { damagedArchive, noArchive } from './archiveRefusals.ts';

const DEEPEST = 64;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/** How deep brackets nest in JSON text, up to one more than allowed; looked at before anything is built from it. */
const tooDeep = (json: Uint8Array): boolean => {
  let depth = 0;
  let inText = false;
  for (let i = 0; i < json.length; i++) {
    const byte = json[i];
    if (inText) {
      if (byte === BACKSLASH) i += 1;
      else if (byte === QUOTE) inText = false;
    } else if (byte === QUOTE) inText = true;
    else if (byte === 0x5b || byte === 0x7b) {
      depth += 1;
      if (depth > DEEPEST) return true;
    } else if (byte === 0x5d || byte === 0x7d) depth -= 1;
  }
  return false;
};

/** JSON text of a file in an archive, as a value that nothing is known of yet. @throws Refusal. */
export const archiveJson = (bytes: Uint8Array, what: string): unknown => {
  if (tooDeep(bytes)) throw noArchive(`${what} nests deeper than ${DEEPEST} levels`);
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    throw damagedArchive(`${what} is not JSON`);
  }
};

/** The value as its schema has it. @throws Refusal `archive-invalid`, with the place. */
export const checked = <S extends z.ZodType>(schema: S, value: unknown, what: string): z.infer<S> => {
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw noArchive(`${what} is not as it should be: ${firstIssue(parsed.error)}`);
};
