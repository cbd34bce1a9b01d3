import { type DriftReport, readDrift } from '../../analysis/across/drift.ts';
import type { Warning } from '../../analysis/errors.ts';
import { chartable, type DatedControl, type NotedControl } from '../commands/controlRecords.ts';
import { otherStrip } from '../commands/otherStrip.ts';
import { recordedCurveOf, type StoredReading } from '../commands/storedReading.ts';

/** The chart, and what it was made of. */
export type DriftTold = DriftReport & {
  readonly records: readonly DatedControl[];
  readonly warnings: readonly Warning[];
};

/**
 * Has the light changed since the baseline?
 *
 * @param noted control scraps in the order of time.
 * @param controls the readings they come from, where they do: held against the recorded strip's dye and cloth.
 * @param stored the reading that scraps without a shift are held against.
 * @throws AnalysisError; CommandError.
 */
export const driftOf = (
  noted: readonly NotedControl[],
  controls: readonly StoredReading[],
  stored: StoredReading | null,
): DriftTold => {
  // Only the shifts' middles are charted, so the seed of the intervals does not matter.
  const { records, warnings } = chartable(noted, stored && recordedCurveOf(stored, 1));
  const others = stored ? controls.flatMap((control) => otherStrip(stored, control)) : [];
  return { ...readDrift(records), records, warnings: [...others, ...warnings] };
};
