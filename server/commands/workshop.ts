import { firstIssue } from '../../analysis/firstIssue.ts';
import { type ReadOptions, verdictSettings } from '../contracts/readOptions.ts';
import { CommandError } from './command.ts';
import { numberOf } from './options.ts';

/** What holds for a workshop rather than for a strip: for the commands that read photos. */
export const WORKSHOP_WORDS = {
  'timer-step': { type: 'string' },
  verdict: { type: 'string', multiple: true },
} as const;

export const WORKSHOP_HELP = [
  ['--timer-step SECONDS', 'smallest change of your timer'],
  [
    '--verdict NAME=NUMBER',
    'from when on a step counts as washed out (leastDeltaE=1, leastTimesU=2, leastDepthPercent=10), full (fullWithinL=1) or overexposed (overexposedStops=0.5); may be repeated',
  ],
] as const;

/** "fullWithinL=1.5" → ["fullWithinL", 1.5]. */
const thresholdOf = (text: string): readonly [string, number] => {
  const [, name, value] = /^\s*(\w+)\s*=\s*(\d*[.,]?\d+)\s*$/.exec(text) ?? [];
  if (name === undefined || value === undefined)
    throw new CommandError('usage', `--verdict "${text}" is not understood. Write it like fullWithinL=1.5`);
  return [name, Number(value.replace(',', '.'))];
};

/** The workshop's timer and thresholds as typed; nothing where none were. @throws CommandError `usage`. */
export const workshopOf = (values: {
  readonly 'timer-step'?: string | undefined;
  readonly verdict?: readonly string[] | undefined;
}): ReadOptions => {
  const timerStepSeconds = numberOf('timer-step', values['timer-step'], 0.1);
  const thresholds = (values.verdict ?? []).map(thresholdOf);
  const parsed = verdictSettings.safeParse(Object.fromEntries(thresholds));
  if (!parsed.success) throw new CommandError('usage', `--verdict: ${firstIssue(parsed.error)}`);
  return {
    ...(timerStepSeconds !== undefined && { timerStepSeconds }),
    ...(thresholds.length > 0 && { verdictSettings: parsed.data }),
  };
};
