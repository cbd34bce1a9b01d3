import type { Phrase, Phrasing } from '../../analysis/phrases.ts';
import { formatNumber } from '../numbers.ts';
import { formatTime } from '../times.ts';
import { bringPhrases, phrasing, words } from '../words.ts';

type Said = (values: never) => string;

const made = new Map<NonNullable<typeof phrasing.value>, Phrasing>();

const spoken = (): Phrasing | null => {
  const make = phrasing.value;
  if (make === null) {
    // What is being drawn comes first.
    if (words.language !== 'en') setTimeout(bringPhrases);
    return null;
  }
  const phrases = made.get(make) ?? make({ number: formatNumber, time: formatTime });
  made.set(make, phrases);
  return phrases;
};

/**
 * A sentence of the analysis in the language that is spoken, made of its numbers. Null where only the English text can be
 * shown: in English, and for readings of versions that did not give the numbers or say something that is not known here.
 */
export const phraseText = (phrase: Phrase | undefined): string | null => {
  const phrases = spoken();
  if (!phrase || !phrases || !Object.hasOwn(phrases, phrase.id)) return null;
  return (phrases as Readonly<Record<string, Said>>)[phrase.id](phrase.values as never);
};
