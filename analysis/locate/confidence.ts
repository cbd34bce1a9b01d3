import type { DoubtWords } from './doubtWords.ts';
import type { FoundCard } from './findCard.ts';
import type { FoundStrip } from './foundStrip.ts';
import type { MarksPart } from './marks.ts';

/** From this confidence on, found marks count as sure; below it a person should look. The tests hold how often it errs. */
export const sureFrom = 0.6;

/** Something that speaks against a find: how strongly (minus ln of the confidence it leaves), and in words. */
export interface Doubt {
  readonly weight: number;
  readonly phrase: DoubtWords;
  /** What it speaks against; where the steps lie, if left out. */
  readonly part?: MarksPart;
  /** Where it says that the photo shows another number of steps than described. */
  readonly otherCount?: 'fewer' | 'more';
}

/**
 * How sure is the find, 0..1? Every doubt multiplies what the others leave. The weights are set so that `sureFrom` parts
 * right from wrong on rendered photos, steps declared too many or too few among them; they are no probabilities.
 */
export function confidenceOf(doubts: readonly Doubt[]): number {
  return Math.exp(-doubts.reduce((sum, doubt) => sum + doubt.weight, 0));
}

/** ln odds that the number of steps described is right, before the strip is seen. */
const countTrust = 2;

/** Minus ln of the chance that odds leave. */
function against(odds: number): number {
  return odds < -30 ? -odds : Math.log1p(Math.exp(-odds));
}

/** From a doubt of the count this strong on, which time belongs to which step is not sure enough to give a time. */
const strongCountDoubt = 0.35;

/** Does the photo show fewer or more steps than were described? Null where it hardly says so. */
export function otherCountOf(doubts: readonly Doubt[]): 'fewer' | 'more' | null {
  const strongest = doubts
    .filter((doubt) => doubt.otherCount !== undefined && doubt.weight >= strongCountDoubt)
    .sort((one, other) => other.weight - one.weight)[0];
  return strongest?.otherCount ?? null;
}

/** What speaks against the card. */
export function cardDoubts(card: FoundCard): Doubt[] {
  const single = card.patches.length === 1;
  const ahead = Math.max(0, card.rivalMisfit - card.misfit);
  return [
    {
      weight: single ? 0.12 * Math.max(0, card.misfit - 1.5) : 0.25 * Math.max(0, card.misfit - 1),
      phrase: single
        ? 'the grey patch is not as neutral, even or dark as it should be'
        : "the card's patches do not look quite as this card should",
      part: 'card',
    },
    {
      weight: single ? 1.5 * Math.exp(-ahead / 2.5) : 1.2 * Math.exp(-ahead / 0.6),
      phrase: 'something else in the photo could be the card as well',
      part: 'card',
    },
    {
      weight: Math.max(0, 0.6 - card.seenShare),
      phrase: "most of the card's patches do not stand out from their mount",
      part: 'card',
    },
  ];
}

/** What speaks against the strip. */
export function stripDoubts(strip: FoundStrip): Doubt[] {
  const scraps = strip.pieces === 'scraps';
  return [
    {
      weight: scraps ? 3 * Math.exp(-strip.directionOdds / 2.5) : against(strip.directionOdds),
      phrase: 'the steps could also run the other way',
      part: 'direction',
    },
    {
      weight: against(strip.placeOdds),
      phrase: 'the strip could begin or end a step further on',
    },
    {
      weight: against(strip.countOdds[0] + countTrust),
      phrase: 'the strip seems to have fewer steps than described',
      part: 'count',
      otherCount: 'fewer',
    },
    {
      weight: against(strip.countOdds[1] + countTrust),
      phrase: 'the strip seems to have more steps than described',
      part: 'count',
      otherCount: 'more',
    },
    {
      weight: 2 * Math.max(0, strip.unclaimed - 0.25),
      phrase: 'there is dyed cloth beside the steps',
      part: 'count',
      // Where borders go unseen, too many steps were laid over too few.
      otherCount: strip.seenShare > 0.7 ? 'more' : 'fewer',
    },
    {
      weight: 1.5 * Math.min(0.65, Math.max(0, strip.rival - 0.35)),
      phrase: 'something else in the photo could be the strip as well',
      part: 'strip',
    },
    {
      weight: strip.openStart ? 0.6 : 0,
      phrase: 'the first step looks like bare cloth, and more of that lies beyond it',
      part: 'count',
    },
    {
      weight: scraps ? 0 : 2.5 * Math.max(0, 0.6 - strip.seenShare),
      phrase: 'few borders between steps can be seen',
    },
    {
      weight: 3 * Math.max(0, 0.85 - strip.bounded),
      phrase: 'the strip hardly stands out from what it lies on',
    },
    {
      weight: 5 * Math.max(0, 0.26 - strip.toneRange),
      phrase: 'the steps hardly differ',
    },
    {
      weight: scraps ? 0 : 5 * Math.max(0, strip.irregularity - 0.13),
      phrase: 'the steps are of uneven width',
    },
    {
      weight: scraps ? 0.35 * strip.irregularity : 0,
      phrase: 'some scraps were not seen clearly',
    },
    {
      weight: 0.8 * strip.leftOver,
      phrase: 'there are more pieces of cloth than steps',
      part: 'count',
      otherCount: 'more',
    },
  ];
}
