import { signal } from '@preact/signals';
import type { Phrasing } from '../analysis/phrases.ts';
import type { Formats } from '../analysis/words/formats.ts';
import type { Words } from './words/shape.ts';

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The words of the language that is spoken. Set before anything is drawn; read it while drawing, not before. */
export let words: Words;

type MakePhrasing = (formats: Formats) => Phrasing;

/**
 * The analysis's sentences in the language that is spoken; null in English, where its own text is shown, and until they
 * have been fetched: they come after the words, so that the page is there first.
 */
export const phrasing = signal<MakePhrasing | null>(null);

/** Settled once the sentences of the language that is spoken are there as well. */
export let phrasesFetched: Promise<void> = Promise.resolve();

/** Fetches a language's words and speaks it from now on. What is drawn already has to be drawn anew. */
export const speak = async (language: Language): Promise<void> => {
  if (language === 'de') {
    words = (await import('./words/german.ts')).german;
    phrasesFetched = import('../analysis/words/germanPhrases.ts').then(({ germanPhrasing }) => {
      if (words.language === language) phrasing.value = germanPhrasing;
    });
  } else {
    words = (await import('./words/english.ts')).english;
    phrasing.value = null;
  }
};
