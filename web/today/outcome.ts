import { type Signal, signal } from '@preact/signals';
import type { Judged, Print } from '../../server/contracts/recordUse.ts';
import { decimalSign, parseNumber } from '../numbers.ts';

/** How a print came out, as it is being said: not yet, by eye, or measured. */
export type How = '' | Judged | 'measured';

export interface OutcomeDraft {
  readonly how: Signal<How>;
  readonly L: Signal<string>;
  readonly u: Signal<string>;
}

/** What the book is told. */
export interface Outcome {
  readonly reachedL: number | null;
  readonly reachedUL: number | null;
  readonly judged: Judged | null;
}

/** A number as a field shows it for correcting: to a hundredth, no noughts at its end. */
const typed = (value: number | null): string =>
  value === null ? '' : String(Math.round(value * 100) / 100).replace('.', decimalSign());

/** A draft with what is known already. */
export const outcomeDraft = (
  made: Pick<Print, 'reachedL' | 'reachedUL' | 'judged'> | null = null,
): OutcomeDraft => {
  const { reachedL = null, reachedUL = null, judged = null } = made ?? {};
  return {
    how: signal<How>(reachedL === null ? (judged ?? '') : 'measured'),
    L: signal(typed(reachedL)),
    u: signal(typed(reachedUL)),
  };
};

/** A draft with nothing said, in place of what was. */
export const clearOutcome = ({ how, L, u }: OutcomeDraft): void => {
  how.value = '';
  L.value = '';
  u.value = '';
};

/** Which of the numbers can't be. */
export interface OutcomeProblems {
  readonly L: boolean;
  readonly u: boolean;
}

/** What a draft says; or which of its numbers can't be. */
export const outcomeOf = ({ how, L, u }: OutcomeDraft): Outcome | OutcomeProblems => {
  if (how.value !== 'measured')
    return { reachedL: null, reachedUL: null, judged: how.value === '' ? null : how.value };
  const reachedL = parseNumber(L.value);
  const reachedUL = u.value.trim() === '' ? null : parseNumber(u.value);
  const problems = {
    L: reachedL === null || reachedL < 0 || reachedL > 100,
    u: u.value.trim() !== '' && (reachedUL === null || reachedUL <= 0 || reachedUL > 50),
  };
  return problems.L || problems.u ? problems : { reachedL, reachedUL, judged: null };
};

/**
 * Why no stops are said for a print whose L* was measured and held against a curve: towards the curve's ends many
 * exposures give nearly the same L*. Null where stops are said, or there is no curve to hold it against.
 */
export const whyNoStops = ({
  reachedDepthPercent,
  missedStops,
}: Pick<Print, 'reachedDepthPercent' | 'missedStops'>): 'pale' | 'deep' | null => {
  if (reachedDepthPercent === null || missedStops !== null) return null;
  return reachedDepthPercent < 50 ? 'pale' : 'deep';
};

export const isOutcome = (said: Outcome | OutcomeProblems): said is Outcome => 'judged' in said;
