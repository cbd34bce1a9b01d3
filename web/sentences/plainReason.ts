import type { Phrase } from '../../analysis/phrases.ts';
import { formatNumber } from '../numbers.ts';
import { words } from '../words.ts';

/**
 * Why one curve was taken and not the other, without the statistics of the comparison. Null where the reason is none of
 * that kind, or a reading of before says it as text alone.
 */
export const plainReason = (phrase: Phrase | undefined): string | null => {
  if (phrase?.id !== 'curve-chosen') return null;
  const { alike, scatterL } = phrase.values;
  const fits = alike ? words.notes.bothFit : words.notes.fitsBetter;
  return typeof scatterL === 'number' ? `${fits} ${words.notes.scatters(formatNumber(scatterL, 1))}` : fits;
};
