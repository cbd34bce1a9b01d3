import { signal } from '@preact/signals';
import type { Phrasing } from '../analysis/phrases.ts';
import type { Formats } from '../analysis/words/formats.ts';
import type { Words } from './words/shape.ts';

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The words of the language that is spoken. Set before anything is drawn; read it while drawing, not before. */
export let words: Words;

type MakePhrasing = (formats: Formats) => Phrasing;

/** The analysis's sentences in the language that is spoken; null in English, where its own text is shown, and until they are here. */
export const phrasing = signal<MakePhrasing | null>(null);

let bringing: Promise<void> | null = null;

/** Fetches the analysis's sentences; asked for by the first that is to be said, so that the page is there before them. */
export const bringPhrases = (): Promise<void> => {
  if (words.language !== 'de') return Promise.resolve();
  bringing ??= import('../analysis/words/germanPhrases.ts').then(
    ({ germanPhrasing }) => {
      if (words.language === 'de') phrasing.value = germanPhrasing;
    },
    () => {
      bringing = null;
    },
  );
  return bringing;
};

/** Fetches a language's words and speaks it from now on. What is drawn already has to be drawn anew. */
export const speak = async (language: Language): Promise<void> => {
  words =
    language === 'de'
      ? (await import('./words/german.ts')).german
      : (await import('./words/english.ts')).english;
  bringing = null;
  phrasing.value = null;
};
