import type { FoundCard } from './findCard.ts';
import type { FoundStrip } from './findStrip.ts';

/** Something that speaks against a find: how much, as log odds, and in words. */
export interface Doubt {
  readonly weight: number;
  readonly phrase: string;
}

export function confidenceOf(doubts: readonly Doubt[]): number {
  return Math.exp(-doubts.reduce((sum, doubt) => sum + doubt.weight, 0));
}
export function cardDoubts(_card: FoundCard): Doubt[] { return []; }
export function stripDoubts(_strip: FoundStrip, _count: number): Doubt[] { return []; }
