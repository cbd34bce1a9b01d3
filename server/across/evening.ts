import { type Evenness, readEvenness } from '../../analysis/across/evenness.ts';
import { parseBedMarks } from '../../analysis/bedMarks.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { type BedPhoto, readBed } from '../../analysis/readBed.ts';
import { recordedCurveOf, type StoredReading } from '../commands/storedReading.ts';
import type { BedQuestion, EvennessAnswer, EvennessQuestion, SheetCells } from '../contracts/evenness.ts';

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

/** A photo of a sheet, and its marks as they were given. */
export interface GivenPhoto {
  readonly bytes: Uint8Array;
  readonly marks: unknown;
}

/** How alike is the light over the bed, from one photo of the sheet or several? @throws AnalysisError; CommandError. */
export const evennessFromPhotos = async (
  { bed, tolerancePercent, seed = 1 }: Pick<BedQuestion, 'bed' | 'tolerancePercent' | 'seed'>,
  photos: readonly [GivenPhoto, ...GivenPhoto[]],
  stored: StoredReading,
): Promise<EvennessAnswer> => {
  const { card } = parseStrip({ card: bed.card, steps: [{ seconds: 0 }] });
  const marked = ({ bytes, marks }: GivenPhoto): BedPhoto => ({ bytes, marks: parseBedMarks(marks) });
  const [first, ...others] = photos;
  const { evenness, covarianceL, ...sheet } = await readBed(
    [marked(first), ...others.map(marked)],
    card,
    recordedCurveOf(stored, seed),
    {
      seed,
      ...(bed.rows === undefined ? {} : { rows: bed.rows }),
      ...(bed.columns === undefined ? {} : { columns: bed.columns }),
      ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
    },
  );
  return { evenness, sheet };
};
