import { z } from 'zod';

/** Pixels of the upright photo, from the left and from the top. */
const point = z.tuple([z.number(), z.number()]).readonly();
export type Point = z.infer<typeof point>;

/** Four corners, clockwise as seen in the photo. */
export const quad = z.tuple([point, point, point, point]).readonly();
export type Quad = z.infer<typeof quad>;

const provenance = { origin: z.enum(['hand', 'free-form', 'sheet']), confidence: z.number().min(0).max(1) };

/** What may be unsure in marks that were found. */
export const marksPart = z.enum(['card', 'strip', 'count', 'direction']);
export type MarksPart = z.infer<typeof marksPart>;

/** Points on card and strip that a person tapped, in pixels of the upright photo. */
export const taps = z.object({ card: point.exactOptional(), strip: point.exactOptional() }).readonly();
export type Taps = z.infer<typeof taps>;

/** Where card patches and steps are in one photo. */
export const marks = z
  .object({
    card: z.array(z.object({ name: z.string(), quad, ...provenance }).readonly()).readonly(),
    steps: z.array(z.object({ seconds: z.number().min(0), quad, ...provenance }).readonly()).readonly(),
    swatch: z.object({ quad }).readonly().exactOptional(),
    surround: z.array(quad).readonly().exactOptional(),
  })
  .readonly();
export type Marks = z.infer<typeof marks>;
