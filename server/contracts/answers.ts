import { z } from 'zod';
import { photoKey } from './look.ts';
import { reading } from './reading.ts';
import { stripDescription } from './strip.ts';

/** A small upright JPEG of a photo, and how large the upright photo itself is. */
export const preview = z
  .object({
    href: z.string(),
    photoWidthPx: z.number().int().positive(),
    photoHeightPx: z.number().int().positive(),
    /** Names the photo while the server holds it, in place of sending it again. */
    photoKey: photoKey.exactOptional(),
    /** Id of the plan whose code stands on a measuring sheet in the photo; missing where none was read. */
    planId: z.string().exactOptional(),
  })
  .readonly();
export type Preview = z.infer<typeof preview>;

/** Answer to POST /api/previews. */
export const previewAnswer = z.object({ preview }).readonly();
export type PreviewAnswer = z.infer<typeof previewAnswer>;

/** Answer to POST /api/readings. */
export const readingAnswer = z.object({ reading, preview }).readonly();
export type ReadingAnswer = z.infer<typeof readingAnswer>;

const demoSummary = z.object({ id: z.string(), title: z.string(), story: z.string() }).readonly();
export type DemoSummary = z.infer<typeof demoSummary>;

/** Answer to GET /api/demos. */
export const demoList = z.object({ demos: z.array(demoSummary).readonly() }).readonly();
export type DemoList = z.infer<typeof demoList>;

/** Answer to GET /api/demos/:id: the demo strip as the pipeline has read it. */
export const demoAnswer = z
  .object({ demo: demoSummary, strip: stripDescription, photoHref: z.string(), reading, preview })
  .readonly();
export type DemoAnswer = z.infer<typeof demoAnswer>;
