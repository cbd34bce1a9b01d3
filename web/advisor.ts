import { advise } from '../analysis/advice/advise.ts';
import { type BootstrapSet, bootstrapCurve } from '../analysis/curve/bootstrap.ts';
import type { Advice, CurveOutcome } from '../server/contracts/reading.ts';
import type { Target } from '../server/contracts/target.ts';
import { readOptions } from './settings.ts';

const sets = new WeakMap<CurveOutcome, BootstrapSet>();

/** Makes the curves that intervals are taken from, once per reading; the first advice then answers at once. */
export const prepare = (outcome: CurveOutcome): BootstrapSet | undefined => {
  if (outcome.kind !== 'fitted') return undefined;
  let set = sets.get(outcome);
  if (!set) {
    set = bootstrapCurve(outcome.curve);
    sets.set(outcome, set);
  }
  return set;
};

/** What a target comes to on a strip's curve, worked out here without asking the server. */
export const adviceFor = (outcome: CurveOutcome, wanted: Target): Advice => {
  const bootstrap = prepare(outcome);
  const { timerStepSeconds } = readOptions();
  return advise(outcome, wanted, {
    ...(bootstrap && { bootstrap }),
    ...(timerStepSeconds !== undefined && { timerStepSeconds }),
  });
};
