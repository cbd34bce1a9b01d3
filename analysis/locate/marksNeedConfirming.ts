import { sureFrom } from './confidence.ts';
import type { Marks } from './marks.ts';

/**
 * May a reading from these marks be kept as a calibration without a person's yes? True where it may not: some card
 * patch or step was found by the program alone with a confidence below `sureFrom`. Marks set by hand never need it.
 *
 * @param marks in pixels of the upright photo, as a reading carries them.
 * @returns true where a person should look at the marks and say yes first.
 * @example marksNeedConfirming({ card: [], steps: [{ seconds: 0, quad, origin: 'free-form', confidence: 0.4 }] }) // true
 */
export function marksNeedConfirming(marks: Marks): boolean {
  return [...marks.card, ...marks.steps].some(
    ({ origin, confidence }) => origin !== 'hand' && !(confidence >= sureFrom),
  );
}
