import { z } from 'zod';

export const LANGUAGES = ['en', 'de'] as const;

/** A language that papers are printed in. */
export const paperLanguage = z.enum(LANGUAGES);
export type PaperLanguage = z.infer<typeof paperLanguage>;
