import { z } from 'zod';
import { paperLanguage } from './language.ts';

/** Letters that can't steer anything: names go onto paper as they are. */
const text = z.string().trim().max(80);

/** What goes onto a measuring sheet: body of POST /api/sheets; GET takes `paper`, `plan` and the names as its query. */
export const sheetRequest = z
  .strictObject({
    paper: z.enum(['a4', 'letter']).default('a4'),
    /** Without one, that of Accept-Language. */
    language: paperLanguage.exactOptional(),
    /** Id of the plan; in the square code, so that a photo of the sheet finds its plan. */
    plan: z
      .string()
      .regex(/^[a-z0-9-]{1,40}$/)
      .exactOptional(),
    name: text.exactOptional(),
    dye: text.exactOptional(),
    cloth: text.exactOptional(),
    light: text.exactOptional(),
    /** Step times in seconds, written under the names. */
    seconds: z.array(z.number().min(0).max(1_000_000)).max(60).readonly().exactOptional(),
  })
  .readonly();
export type SheetRequest = z.infer<typeof sheetRequest>;
