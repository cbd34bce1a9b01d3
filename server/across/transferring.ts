import { type Transfer, transferByControl } from '../../analysis/across/transfer.ts';
import type { Warning } from '../../analysis/errors.ts';
import { CommandError } from '../commands/command.ts';
import { otherStrip } from '../commands/otherStrip.ts';
import { type Restated, restate } from '../commands/restate.ts';
import { scrapsOf } from '../commands/scraps.ts';
import { recordedCurveOf, type StoredReading } from '../commands/storedReading.ts';
import type { TransferQuestion } from '../contracts/transfer.ts';

type Told<T> = T extends { readonly kind: 'transferred' }
  ? Omit<T, 'warnings'> & { readonly warnings: readonly Warning[]; readonly restated: Restated }
  : T & { readonly warnings: readonly Warning[]; readonly restated: null };

/** What the control scraps tell, with the target's time under the new light. */
export type TransferTold = Told<Transfer>;

/** Recorded times under another light, by its control scraps. @throws AnalysisError; CommandError. */
export const transferOf = (
  question: Omit<TransferQuestion, 'curve' | 'controls'>,
  stored: StoredReading,
  controls: readonly StoredReading[],
): TransferTold => {
  const { target = stored.reading.advice.target, timerStepSeconds, seed = 1 } = question;
  const scraps = [...controls.flatMap(scrapsOf), ...question.scraps].sort((a, b) => a.seconds - b.seconds);
  if (scraps.length === 0)
    throw new CommandError('usage', 'Control scraps are missing: give their readings or their L* with time');
  const recorded = recordedCurveOf(stored, seed);
  const found = transferByControl(recorded, scraps);
  const others = controls.flatMap((control) => otherStrip(stored, control));
  return found.kind === 'transferred'
    ? {
        ...found,
        warnings: [...others, ...found.warnings],
        restated: restate(recorded, scraps, target, timerStepSeconds),
      }
    : { ...found, warnings: others, restated: null };
};
