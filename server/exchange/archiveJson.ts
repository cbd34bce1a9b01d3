import type { z } from 'zod';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { DEEPEST_JSON, jsonBeyond } from '../jsonSize.ts';
import { Refusal } from '../refusal.ts';
import { damagedArchive, noArchive } from './archiveRefusals.ts';

/** JSON text of a file in an archive, as a value that nothing is known of yet. @throws Refusal. */
export const archiveJson = (bytes: Uint8Array, what: string): unknown => {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    if (jsonBeyond(text, Number.POSITIVE_INFINITY) === 'deep')
      throw noArchive(`${what} nests deeper than ${DEEPEST_JSON} levels`);
    return JSON.parse(text);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw damagedArchive(`${what} is not JSON`);
  }
};

/** The value as its schema has it. @throws Refusal `archive-invalid`, with the place. */
export const checked = <S extends z.ZodType>(schema: S, value: unknown, what: string): z.infer<S> => {
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw noArchive(`${what} is not as it should be: ${firstIssue(parsed.error)}`);
};
