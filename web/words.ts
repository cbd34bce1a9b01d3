import type { Phrasing } from '../analysis/phrases.ts';
import type { Formats, Words } from './words/shape.ts';

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The words of the language that is spoken. Set before anything is drawn; read it while drawing, not before. */
export let words: Words;

/** The analysis's sentences in the language that is spoken; null in English, where its own text is shown. */
export let phrasing: ((formats: Formats) => Phrasing) | null = null;

/** Fetches a language's words and speaks it from now on. What is drawn already has to be drawn anew. */
export const speak = async (language: Language): Promise<void> => {
  if (language === 'de') {
    const { german, germanPhrasing } = await import('./words/german.ts');
    words = german;
    phrasing = germanPhrasing;
  } else {
    words = (await import('./words/english.ts')).english;
    phrasing = null;
  }
};
