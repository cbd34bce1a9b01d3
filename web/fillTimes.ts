import { batch } from '@preact/signals';
import { draft, keepDraft, writeTimes } from './draft.ts';
import { tell } from './parts/Notice.tsx';
import { words } from './words.ts';

/**
 * Puts times into the form for the next reading, and with them what `more` writes there. Marks that were placed for
 * other times no longer hold. Where times stood there already, that is said, with a way back.
 */
export const fillTimes = (seconds: readonly number[], more: () => void = () => undefined): void => {
  const { times, fromRun, dye, cloth, light, marks, also } = draft;
  const filled = [times, fromRun, dye, cloth, light, marks, also];
  const before = filled.map(({ value }) => value);
  const timesBefore = times.value;
  batch(() => {
    writeTimes(seconds);
    marks.value = null;
    also.value = also.value.map((photo) => ({ ...photo, marks: null }));
    more();
  });
  keepDraft();
  if (timesBefore.trim() === '' || timesBefore === times.value) return;
  tell(words.form.timesFilled, () => {
    batch(() =>
      filled.forEach((field, i) => {
        (field as { value: unknown }).value = before[i];
      }),
    );
    keepDraft();
  });
};
