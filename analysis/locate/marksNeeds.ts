import { type Phrase, phrase } from '../phrases.ts';
import type { Doubt } from './confidence.ts';
import type { MarksPart } from './marks.ts';

/** Something that a person should settle before marks are trusted, and how. */
export interface MarksNeed {
  readonly part: MarksPart;
  readonly message: string;
  readonly phrase?: Phrase;
}

const messages: Readonly<Record<MarksPart, string>> = {
  card: 'It is not sure which area is the card. Tap on the card, or set its patches by hand.',
  strip: 'It is not sure where the steps lie. Tap on the strip, or set the steps by hand.',
  count:
    'The strip may have another number of steps than there are times. Count the steps, the unexposed one included, and correct the times, or set the steps by hand.',
  direction:
    'It is not sure at which end of the strip the shortest exposure lies. Look whether the first mark lies on the least exposed step; if not, set the steps by hand.',
};

/** From this much doubt on, a part is named. */
const worthNaming = 0.2;

/**
 * What should the printmaker settle, the most doubtful part first? Meant for marks that are not sure; names at least one.
 *
 * @param doubts all that speak against the find; the strip's place is meant where a doubt names no part.
 */
export function needsOf(doubts: readonly Doubt[]): MarksNeed[] {
  const weights = new Map<MarksPart, number>();
  for (const { part = 'strip', weight } of doubts) weights.set(part, (weights.get(part) ?? 0) + weight);
  const parts = [...weights].sort((a, b) => b[1] - a[1]);
  return parts
    .filter(([, weight], i) => i === 0 || weight >= worthNaming)
    .map(([part]) => ({ part, message: messages[part], phrase: phrase(`need-${part}`, {}) }));
}
