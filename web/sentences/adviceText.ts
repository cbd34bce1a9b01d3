import { adviceSentence } from '../../analysis/words/adviceSentence.ts';
import type { Advice, CurveOutcome } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { phraseText } from './phraseText.ts';

/** The advice in a sentence or two, from its numbers, in the language that is spoken. */
export const adviceText = (advice: Advice, outcome: CurveOutcome): string =>
  adviceSentence(advice, outcome, {
    words: words.sentences,
    formats: { number: formatNumber, time: formatTime },
    said: phraseText,
  });
