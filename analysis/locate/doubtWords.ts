import { type Phrase, type PhraseId, phrase } from '../phrases.ts';

/** Everything that can speak against a find, in words. */
const DOUBTS = {
  'doubt-patch-look': 'the grey patch is not as neutral, even or dark as it should be',
  'doubt-card-look': "the card's patches do not look quite as this card should",
  'doubt-card-rival': 'something else in the photo could be the card as well',
  'doubt-card-faint': "most of the card's patches do not stand out from their mount",
  'doubt-direction': 'the steps could also run the other way',
  'doubt-place': 'the strip could begin or end a step further on',
  'doubt-fewer': 'the strip seems to have fewer steps than described',
  'doubt-more': 'the strip seems to have more steps than described',
  'doubt-cloth-beside': 'there is dyed cloth beside the steps',
  'doubt-strip-rival': 'something else in the photo could be the strip as well',
  'doubt-bare-start': 'the first step looks like bare cloth, and more of that lies beyond it',
  'doubt-few-borders': 'few borders between steps can be seen',
  'doubt-strip-faint': 'the strip hardly stands out from what it lies on',
  'doubt-steps-alike': 'the steps hardly differ',
  'doubt-uneven-width': 'the steps are of uneven width',
  'doubt-scraps-unclear': 'some scraps were not seen clearly',
  'doubt-more-pieces': 'there are more pieces of cloth than steps',
  'doubt-scraps-direction': 'the scraps could also run the other way',
  'doubt-scraps-order': 'the scraps could also be in another order',
  'doubt-scraps-not-darker': 'the scraps do not darken one after the other',
} as const satisfies { readonly [I in PhraseId]?: string };

type DoubtId = keyof typeof DOUBTS;
export type DoubtWords = (typeof DOUBTS)[DoubtId];

const IDS = Object.keys(DOUBTS) as DoubtId[];

/** Which sentence these words are, for other languages; none for words that are not among the doubts. */
export const doubtPhrases = (words: string): Phrase[] =>
  IDS.filter((id) => DOUBTS[id] === words).map((id) => phrase(id, {}));
