import { z } from 'zod';

/** A sentence without its words: which one it is, and its numbers; `PhraseValues` in analysis/phrases.ts lists them. */
export const phrase = z.object({ id: z.string(), values: z.record(z.string(), z.unknown()) }).readonly();
