import { z } from 'zod';
import { marks } from './marks.ts';
import { MOST_FURTHER } from './recordReadings.ts';
import { stripDescription } from './strip.ts';

/** Names a photo that the server has seen and still holds: the first 128 bits of its SHA-256. */
export const photoKey = z.string().regex(/^[0-9a-f]{32}$/);

/** POST /api/steps: photos that the server still holds, each with where things are in it. */
export const lookQuestion = z
  .strictObject({
    photos: z
      .array(z.strictObject({ key: photoKey, marks }).readonly())
      .min(1)
      .max(MOST_FURTHER + 1)
      .readonly(),
    strip: stripDescription,
  })
  .readonly();
export type LookQuestion = z.infer<typeof lookQuestion>;

/** What the steps come to under these marks, without curve and advice. */
export const lookAnswer = z
  .object({
    steps: z
      .array(
        z
          .object({ seconds: z.number().min(0), L: z.number(), a: z.number(), b: z.number(), uL: z.number() })
          .readonly(),
      )
      .readonly(),
  })
  .readonly();
export type LookAnswer = z.infer<typeof lookAnswer>;
