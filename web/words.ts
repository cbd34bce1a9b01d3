import type { Words } from './words/shape.ts';

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The words of the language that is spoken. Set before anything is drawn; read it while drawing, not before. */
export let words: Words;

/** Fetches a language's words and speaks it from now on. What is drawn already has to be drawn anew. */
export const speak = async (language: Language): Promise<void> => {
  words =
    language === 'de'
      ? (await import('./words/german.ts')).german
      : (await import('./words/english.ts')).english;
};
