import { expect } from 'vitest';
import { phraseText } from '../../web/sentences/phraseText.ts';
import { englishNumbers, germanNumbers, type Sentence } from './saidIn.ts';

/** Words of which an English sentence of several words has one. */
export const ENGLISH =
  /\b(the|and|with|steps?|cards?|light|photo|patch|is|are|of|to|from|where|that|than|more|only|strip|base|by|at|it|its|not|for|as|scraps?|stops?|hours|today)\b/;

/** Rounded alike: from ten on to whole numbers, as times are; below that to a tenth at least. */
const near = (one: number, other: number): boolean =>
  Math.abs(one - other) <= (Math.max(one, other) >= 10 ? 0.5 : 0.051);

/**
 * Each sentence has its phrase, and the German made of it names the same numbers.
 *
 * @param fractions stops stand as fractions in the English text: only its other numbers are looked for.
 * @param clean takes out what is to be read as it stands in every language, such as names of fields.
 */
export const holdTogether = (
  sentences: readonly Sentence[],
  { fractions = false, clean = (text: string) => text } = {},
): void => {
  for (const { place, text, phrase } of sentences) {
    const whole = phraseText(phrase);
    const said = whole === null ? null : clean(whole);
    expect([place, text, said]).toEqual([place, text, expect.any(String)]);
    expect(said).not.toMatch(ENGLISH);
    const bare = clean(text);
    const plain = fractions ? bare.replace(/(\d+ )?\d+\/\d+ stops?/g, '') : bare;
    const [english, german] = [englishNumbers(plain), germanNumbers(said ?? '')];
    const lacking = english.filter((one) => !german.some((other) => near(one, other)));
    const added = fractions ? [] : german.filter((one) => !english.some((other) => near(one, other)));
    expect([place, text, said, lacking, added]).toEqual([place, text, said, [], []]);
  }
};
