import { z } from 'zod';

/** The depth that the printer wants, as sent with a photo. */
export const target = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('L'), L: z.number().min(0).max(100) }).readonly(),
  z.object({ kind: z.literal('depth'), percent: z.number().gt(0).max(100) }).readonly(),
  z.object({ kind: z.literal('full') }).readonly(),
  z
    .object({
      kind: z.literal('swatch'),
      L: z.number().min(0).max(100),
      a: z.number().min(-200).max(200),
      b: z.number().min(-200).max(200),
    })
    .readonly(),
]);
export type Target = z.infer<typeof target>;
