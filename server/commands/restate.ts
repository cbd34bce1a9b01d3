import type { RecordedCurve } from '../../analysis/across/recorded.ts';
import { type ControlScrap, type RestatedTime, restateTime } from '../../analysis/across/transfer.ts';
import type { Target } from '../../analysis/advice/advice.ts';
import { targetWords } from '../../analysis/advice/sentence.ts';
import { settable } from '../../analysis/advice/settable.ts';
import { targetOnCurve } from '../../analysis/advice/target.ts';
import { exposureFor } from '../../analysis/curve/evaluate.ts';

/** A recorded time and what becomes of it under the new light. */
export interface Restated {
  readonly target: Target;
  /** The target as a printer says it. */
  readonly words: string;
  readonly targetL: number;
  readonly recordedSeconds: number | null;
  readonly now: RestatedTime;
  /** The new time as the timer can be set. */
  readonly roundedSeconds: number | null;
}

/** How long for this target under the new light, against the recorded time? */
export const restate = (
  recorded: RecordedCurve,
  scraps: readonly ControlScrap[],
  target: Target,
  timerStepSeconds: number | undefined,
): Restated => {
  const { L } = targetOnCurve(recorded.curve, target);
  const now = restateTime(recorded, scraps, L);
  const seconds = now.kind === 'restated' ? now.seconds.value : null;
  const recordedSeconds = exposureFor(recorded.curve, L);
  // One stop past the longest step is as far as the recorded strip vouches; the new light moves that end along.
  const latest = (2 * recorded.curve.longestSeconds * (seconds ?? 0)) / (recordedSeconds ?? 1);
  return {
    target,
    words: targetWords(target, L),
    targetL: L,
    recordedSeconds,
    now,
    roundedSeconds: seconds === null ? null : settable(seconds, latest, timerStepSeconds),
  };
};
