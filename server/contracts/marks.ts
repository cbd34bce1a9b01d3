import { z } from 'zod';

/** Pixels of the upright photo, from the left and from the top. */
const point = z.tuple([z.number(), z.number()]).readonly();
export type Point = z.infer<typeof point>;

/** Four corners, clockwise as seen in the photo. */
export const quad = z.tuple([point, point, point, point]).readonly();
export type Quad = z.infer<typeof quad>;

const provenance = { origin: z.enum(['hand', 'free-form', 'sheet']), confidence: z.number().min(0).max(1) };

/** Where card patches and steps are in one photo. */
export const marks = z
  .object({
    card: z.array(z.object({ name: z.string(), quad, ...provenance }).readonly()).readonly(),
    steps: z.array(z.object({ seconds: z.number().min(0), quad, ...provenance }).readonly()).readonly(),
    swatch: z.object({ quad }).readonly().exactOptional(),
  })
  .readonly();
export type Marks = z.infer<typeof marks>;
