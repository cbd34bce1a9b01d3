import { binomialDistribution } from 'simple-statistics';
import type { Feedback, Judged } from '../contracts/recordUse.ts';

/** Chance that is still let pass: as much as the intervals of the book leave out, both ends together. */
const CHANCE = 0.1;

/** How likely is it that so many or more of so many fall on one side, either one, where each side is as likely? */
const chanceOf = (most: number, of: number): number => {
  const shares = binomialDistribution(of, 0.5) ?? [];
  const tail = Array.from({ length: of - most + 1 }, (_, i) => shares[most + i] ?? 0);
  return Math.min(1, 2 * tail.reduce((sum, share) => sum + share, 0));
};

/**
 * Do prints that were judged by eye lean to one side? The sign test: those that came out right tell no side. A lean is
 * called one where chance alone would show it less than one time in ten, and where most of all prints lie on that side.
 */
export const byEye = (judgements: readonly Judged[]): Feedback['byEye'] => {
  const count = (side: Judged): number => judgements.filter((one) => one === side).length;
  const [paler, right, deeper] = [count('paler'), count('right'), count('deeper')];
  const side = paler > deeper ? 'paler' : 'deeper';
  const most = Math.max(paler, deeper);
  const leans = most > judgements.length / 2 && chanceOf(most, paler + deeper) < CHANCE;
  return { paler, right, deeper, leans: leans ? side : null };
};
