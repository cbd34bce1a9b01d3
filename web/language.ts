import { signal } from '@preact/signals';
import { keepText, keptText } from './kept.ts';
import { LANGUAGES, type Language, speak } from './words.ts';

const KEY = 'tonestep.language';

/** The visitor's first language that the page speaks, English where it speaks none. */
export const languageOf = (wished: readonly string[]): Language => {
  for (const tag of wished) {
    const known = LANGUAGES.find((language) => tag.toLowerCase().split('-')[0] === language);
    if (known) return known;
  }
  return 'en';
};

/** The language that is spoken; the page is drawn anew when it changes. */
export const language = signal<Language>(
  LANGUAGES.find((known) => known === keptText(KEY)) ?? languageOf(navigator.languages),
);

const speakIt = async (next: Language): Promise<void> => {
  await speak(next);
  document.documentElement.lang = next;
  language.value = next;
};

/** Fetches the words before the first drawing. */
export const beginToSpeak = (): Promise<void> => speakIt(language.peek());

export const chooseLanguage = async (next: Language): Promise<void> => {
  keepText(KEY, next);
  await speakIt(next);
};
