import { compareDyes, type DyeComparison, type DyeEntry } from '../../analysis/across/compare.ts';
import { recordedCurveOf, type StoredReading } from '../commands/storedReading.ts';
import type { ComparisonQuestion } from '../contracts/comparison.ts';

/** The dye as the strip names it; the file's name goes with it where that tells two strips apart. */
const nameOf = (stored: StoredReading, all: readonly StoredReading[]): string => {
  const { dye } = stored.reading.strip;
  if (!dye) return stored.name;
  return all.filter((other) => other.reading.strip.dye === dye).length > 1 ? `${dye} (${stored.name})` : dye;
};

/** Dyes on one cloth side by side. @throws AnalysisError; CommandError `file-invalid`. */
export const comparisonOf = (
  question: Omit<ComparisonQuestion, 'readings'>,
  readings: readonly StoredReading[],
): DyeComparison => {
  const { names, depthPercent, targetL, same, seed = 1 } = question;
  const [{ cloth, light }] = readings.map(({ reading }) => reading.strip);
  const entries = readings.map(
    (stored, i): DyeEntry => ({
      ...(same ? { cloth, light } : stored.reading.strip),
      name: names?.[i] ?? nameOf(stored, readings),
      ...recordedCurveOf(stored, seed),
    }),
  );
  return compareDyes(entries, {
    ...(depthPercent === undefined ? {} : { depthPercent }),
    ...(targetL === undefined ? {} : { targetL }),
  });
};
