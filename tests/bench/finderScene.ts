import { random } from '../../fixtures/random.ts';
import { sampleScene } from '../../fixtures/sample.ts';
import type { CardKind, SceneSpec, SurroundSpec } from '../../fixtures/spec.ts';

export const FINDER_SURROUNDS = ['plain', 'patterned', 'dark'] as const;
export const FINDER_CARDS = ['white-grey-black', 'grey-scale', 'chart-24', 'grey-18', 'own'] as const;

export interface FinderScene {
  readonly card: CardKind;
  readonly surround: SurroundSpec['kind'];
  readonly leftOut?: 'card' | 'cloth';
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * A photo as a finder meets it: lying any way round, and in six of ten strips of one cloth with 0 to 25 mm of bare
 * cloth at either end, beyond what the drawing of scenes puts all round.
 */
export const finderScene = (seed: number, wanted: FinderScene): SceneSpec => {
  const { card, surround, widthPx, heightPx } = wanted;
  const drawn = sampleScene(seed, { card, surround, anyTurn: true, widthPx, heightPx });
  const rng = random(seed, 41);
  const end = () => (rng.chance(0.25) ? 0 : rng.between(0, 25));
  const ends = rng.chance(0.6) ? ([end(), end()] as const) : null;
  return {
    ...drawn,
    strip: ends && drawn.strip.pieces === 'contiguous' ? { ...drawn.strip, endMarginsMm: ends } : drawn.strip,
    layout: { ...drawn.layout, ...(wanted.leftOut && { leftOut: wanted.leftOut }) },
  };
};
