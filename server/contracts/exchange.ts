import { z } from 'zod';
import { paperLanguage } from './language.ts';
import { reading } from './reading.ts';

export const paperSize = z.enum(['a4', 'letter']);

/** GET /api/record/readings/:id/report; without a language, that of Accept-Language. */
export const reportQuery = z.object({
  paper: paperSize.default('a4'),
  language: paperLanguage.exactOptional(),
});

/** GET /api/record/readings/:id/cgats. */
export const cgatsQuery = z.object({ white: z.enum(['D65', 'D50']).default('D65') });

/** POST /api/reports: a form; the reading as JSON text. */
export const reportForm = z.object({
  reading,
  photo: z.file().exactOptional(),
  paper: paperSize.exactOptional(),
  language: paperLanguage.exactOptional(),
});
