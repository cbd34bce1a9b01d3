import { z } from 'zod';
import { phrase } from './phrase.ts';

/** A number with its 90 % interval; null: not there, or open on that side. */
export const figure = z
  .object({ value: z.number().nullable(), low: z.number().nullable(), high: z.number().nullable() })
  .readonly();

/** Something that a printer should mind: a code for programs, a sentence for people. */
export const warning = z
  .object({ code: z.string(), message: z.string(), phrase: phrase.exactOptional() })
  .readonly();

/**
 * A reading as POST /api/readings or `tonestep read … --json` gave it. Looked at closely when it is used, since it may
 * come from a file of any age.
 */
export const keptReading = z.record(z.string(), z.unknown());

export const seed = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
