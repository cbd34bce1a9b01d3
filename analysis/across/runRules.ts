export type RunRule = 'beyond-limits' | 'two-of-three' | 'four-of-five' | 'eight-on-one-side';

export interface RunSignal {
  readonly rule: RunRule;
  /** Position of the value that completes the pattern, from 0. */
  readonly index: number;
  readonly side: 'high' | 'low';
}

interface Pattern {
  readonly rule: RunRule;
  readonly needed: number;
  readonly within: number;
  /** Distance from the mean in standard deviations that counts. */
  readonly beyondSigmas: number;
}

const PATTERNS: readonly Pattern[] = [
  { rule: 'beyond-limits', needed: 1, within: 1, beyondSigmas: 3 },
  { rule: 'two-of-three', needed: 2, within: 3, beyondSigmas: 2 },
  { rule: 'four-of-five', needed: 4, within: 5, beyondSigmas: 1 },
  { rule: 'eight-on-one-side', needed: 8, within: 8, beyondSigmas: 0 },
];

/**
 * Where does a run of values stop looking like chance? The four usual rules of Western Electric: one value beyond three
 * standard deviations, two of three beyond two, four of five beyond one, eight in a row on one side of the mean; always
 * on the same side, and told at the value that completes the pattern. On steady values all four together give a false
 * alarm about once in 92.
 *
 * @param values in the order of time, any unit.
 * @param mean, sigma of the steady state, in the same unit; sigma 0 or more.
 * @see [domain-6.12], [Western-Electric]
 * @example runSignals([0, 0, 4], 0, 1).length // 1
 */
export function runSignals(values: readonly number[], mean: number, sigma: number): RunSignal[] {
  const signals: RunSignal[] = [];
  values.forEach((value, index) => {
    for (const side of ['high', 'low'] as const) {
      const sign = side === 'high' ? 1 : -1;
      for (const { rule, needed, within, beyondSigmas } of PATTERNS) {
        const beyond = (v: number) => sign * (v - mean) > beyondSigmas * sigma;
        const window = values.slice(Math.max(0, index - within + 1), index + 1);
        if (beyond(value) && window.filter(beyond).length >= needed) signals.push({ rule, index, side });
      }
    }
  });
  return signals;
}
