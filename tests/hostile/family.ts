import fc from 'fast-check';

/** Inputs of one kind; input `i` is the same in every run. */
export interface Family {
  readonly name: string;
  /** How many inputs there are in the long form. */
  readonly count: number;
  /** Makes ready what all inputs share; the result runs input `i`, to an answer's word or an error. */
  readonly open: () => Promise<(i: number) => unknown>;
  /** What input `i` is, for a report. */
  readonly describe?: (i: number) => Promise<string>;
}

const FIRST_SEED = 20_260;

/** The `i`-th value of an arbitrary. */
export const drawn = <T>(arbitrary: fc.Arbitrary<T>, i: number): T =>
  fc.sample(arbitrary, { seed: FIRST_SEED + i, numRuns: 1 })[0];
