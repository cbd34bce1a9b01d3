import { type Evenness, readEvenness } from '../../analysis/across/evenness.ts';
import { recordedCurveOf, type StoredReading } from '../commands/storedReading.ts';
import type { EvennessQuestion, SheetCells } from '../contracts/evenness.ts';

/** Each cell with its uncertainty. */
export const cellsOf = ({ cells, uL }: SheetCells) =>
  cells.map((row) => row.map((cell) => (typeof cell === 'number' ? { L: cell, uL } : cell)));

/** How alike is the light over the bed, from a sheet read in cells? @throws AnalysisError; CommandError. */
export const evennessOf = (question: Omit<EvennessQuestion, 'curve'>, stored: StoredReading): Evenness => {
  const { tolerancePercent, seed = 1 } = question;
  return readEvenness(
    cellsOf(question),
    recordedCurveOf(stored, seed),
    tolerancePercent === undefined ? {} : { tolerancePercent },
  );
};
