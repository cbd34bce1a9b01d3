import type { PaperLanguage } from '../contracts/language.ts';
import { english } from './words/english.ts';
import { german } from './words/german.ts';
import type { PaperWords } from './words/shape.ts';

const WORDS: Readonly<Record<PaperLanguage, PaperWords>> = { en: english, de: german };

/** All words that papers carry, in a language; English where none is asked for. */
export const paperWords = (language: PaperLanguage = 'en'): PaperWords => WORDS[language];
