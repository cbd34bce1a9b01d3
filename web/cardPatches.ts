import type { StripDescription } from '../server/contracts/strip.ts';

/** The names of a card's patches, in the order in which they usually lie. */
export const patchNamesOf = (card: StripDescription['card']): readonly string[] => {
  if (typeof card !== 'string') return card.patches.map((patch) => patch.name);
  switch (card) {
    case 'grey-18':
      return ['grey'];
    case 'white-grey-black':
      return ['white', 'grey', 'black'];
    case 'grey-scale':
      return Array.from({ length: 10 }, (_, i) => `D${(0.05 + 0.2 * i).toFixed(2)}`);
    case 'chart-24':
      return ['19', '20', '21', '22', '23', '24'];
  }
};
