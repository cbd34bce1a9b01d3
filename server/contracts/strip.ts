import { z } from 'zod';

export const cardKind = z.enum(['grey-18', 'white-grey-black', 'grey-scale', 'chart-24']);
export type CardKind = z.infer<typeof cardKind>;

/** A printer's own neutral patch: one of Y (0..1), L* or density. */
const ownPatch = z.union([
  z.object({ name: z.string(), Y: z.number() }).readonly(),
  z.object({ name: z.string(), L: z.number() }).readonly(),
  z.object({ name: z.string(), density: z.number() }).readonly(),
]);
export type OwnPatch = z.infer<typeof ownPatch>;

/** What the page says about a strip: names, the card beside it, step times in seconds, rising. */
export const stripDescription = z
  .object({
    dye: z.string(),
    cloth: z.string(),
    light: z.string(),
    card: z.union([cardKind, z.object({ patches: z.array(ownPatch).readonly() }).readonly()]),
    steps: z.array(z.object({ seconds: z.number().min(0) }).readonly()).readonly(),
  })
  .readonly();
export type StripDescription = z.infer<typeof stripDescription>;
