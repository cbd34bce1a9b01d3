import { type Evenness, readEvenness, type SheetCell } from './across/evenness.ts';
import type { RecordedCurve } from './across/recorded.ts';
import { type BedMarks, cellMarks } from './bedMarks.ts';
import { AnalysisError, type Warning } from './errors.ts';
import type { Card } from './level/card.ts';
import { level } from './level/level.ts';
import type { Illumination, Tone } from './level/levelled.ts';
import { apartMarks } from './locate/apartMarks.ts';
import type { Marks } from './locate/marks.ts';
import { matchMarks } from './locate/matchMarks.ts';
import { containsPoint, quadCentre } from './locate/quadGeometry.ts';
import { markedPicture } from './markedPicture.ts';
import { METHOD_VERSION } from './methodVersion.ts';
import { decodeToMeasure } from './photo/decode.ts';
import type { Photo } from './photo/photo.ts';
import { fullSize } from './photo/reduction.ts';
import { phrase } from './phrases.ts';
import { combinePhotos, type Repeatability } from './steps/combinePhotos.ts';
import { readSteps } from './steps/readSteps.ts';
import { cutTiles } from './tiles/cutTiles.ts';
import type { Tiled } from './tiles/tile.ts';

/** A photo of the exposed and washed sheet beside a card, and where they are in it. */
export interface BedPhoto {
  readonly bytes: Uint8Array;
  readonly marks: BedMarks;
}

export interface BedOptions {
  /** Cells from top to bottom and from left to right of the sheet, 3 to 12 each; 6 and 8 unless said otherwise. */
  readonly rows?: number;
  readonly columns?: number;
  /** How far the dose may differ in the usable area, ± percent; 10 unless said otherwise. */
  readonly tolerancePercent?: number;
  readonly seed?: number;
}

/** A whole sheet read in cells, and what it says of the lamp. Plain data. */
export interface BedReading {
  readonly rows: number;
  readonly columns: number;
  /** Rows from the top of the sheet as it lay on the bed. */
  readonly cells: readonly (readonly SheetCell[])[];
  /** Covariance of the cells' L*, row by row from the top left, every source included. */
  readonly covarianceL: readonly (readonly number[])[];
  readonly evenness: Evenness;
  /** How well several photos of the sheet agree; null for a single photo. */
  readonly repeatability: Repeatability | null;
  /** Of the first photo. */
  readonly illumination: Illumination;
  readonly tone: Tone;
  readonly warnings: readonly Warning[];
  readonly methodVersion: string;
}

const USUAL_ROWS = 6;
const USUAL_COLUMNS = 8;
const FEWEST = 3;
const MOST = 12;
/** Ways of evening out the table light that owe nothing to the sheet itself. */
const APART: readonly Illumination['method'][] = ['surround', 'card-ends'];

/** Cells are cut as steps are; what is wrong with one is said of the sheet. */
const sheetTiles = (photo: Photo, cells: Marks): Tiled => {
  try {
    return cutTiles(photo, cells);
  } catch (error) {
    if (!(error instanceof AnalysisError && / step of \d+ s /.test(error.message))) throw error;
    const { widthPx, heightPx } = fullSize(photo);
    throw new AnalysisError(
      error.code,
      error.code === 'marks-outside-photo'
        ? `The mark of the sheet lies outside the photo (${widthPx} × ${heightPx} pixels). Set its corners on the sheet.`
        : 'The sheet is too small in the photo for so many cells. Move closer, ask for fewer rows and columns, or use the photo at full size.',
      {
        cause: error,
        phrase:
          error.code === 'marks-outside-photo'
            ? phrase('mark-outside', { of: 'the sheet', widthPx, heightPx })
            : phrase('bed-sheet-small', {}),
      },
    );
  }
};

const readPhoto = async (
  { bytes, marks }: BedPhoto,
  card: Card,
  rows: number,
  columns: number,
  seed: number,
) => {
  const cells = cellMarks(marks, rows, columns);
  const strip = {
    dye: '',
    cloth: '',
    light: '',
    card,
    steps: cells.steps.map(({ seconds }) => ({ seconds })),
  };
  apartMarks({ card: matchMarks(cells, strip).card, steps: [] });
  const onSheet = marks.card.find(({ quad }) => containsPoint(marks.sheet, quadCentre(quad)));
  if (onSheet)
    throw new AnalysisError(
      'marks-invalid',
      `Card patch "${onSheet.name}" is marked on the sheet. Lay the card beside the sheet, and set each mark on its own area.`,
      { phrase: phrase('bed-card-on-sheet', { patch: onSheet.name }) },
    );
  const measured = await markedPicture(bytes, await decodeToMeasure(bytes), cells);
  const { photo } = measured;
  const tiled = sheetTiles(photo, measured.marks);
  // Cloth beside a cell is the next cell: nothing on the sheet may pass for evenly exposed.
  const levelled = level({ ...tiled, bands: [] }, strip, photo.profile, seed);
  return { set: readSteps(levelled, photo.profile), levelled };
};

const lightUnknown = ({ reason, phrase: why }: Illumination): Evenness => ({
  kind: 'light-unknown',
  sentence: `What the table light did to this photo is not known (${reason}), and it looks just like an uneven lamp. Photograph the sheet with a hand's breadth of plain, even table to be seen all round it, or with a card on either side.`,
  ...(why && { phrase: phrase('bed-light-unknown', { reason: why }) }),
});

/**
 * How even is my light over the bed, from a photo? A whole coated sheet is exposed at one time to mid depth, washed and
 * photographed beside a card. It is read in cells as a strip is in steps; each cell's L* goes back through the dye's
 * curve to its dose. What the photo's own light leaves open looks like an uneven lamp: it enters as the covariance of
 * the cells, and the map says what it can't tell apart. A second photo with the sheet turned end for end, corners marked
 * as they lay on the bed, takes most of it out.
 *
 * @param photos one or several of the same sheet. @param card beside it.
 * @param recorded the curve of this dye on this cloth.
 * @returns cells with their covariance, and the map; `light-unknown` where no table is to be seen around the sheet.
 * @throws AnalysisError `comparison-invalid` for a grid out of range; what `readStrip` throws for photo, card and marks.
 * @see method.md §9
 */
export const readBed = async (
  photos: readonly [BedPhoto, ...BedPhoto[]],
  card: Card,
  recorded: RecordedCurve,
  options: BedOptions = {},
): Promise<BedReading> => {
  const { rows = USUAL_ROWS, columns = USUAL_COLUMNS, seed = 1, tolerancePercent } = options;
  for (const count of [rows, columns])
    if (!(Number.isInteger(count) && count >= FEWEST && count <= MOST))
      throw new AnalysisError(
        'comparison-invalid',
        `A sheet is read from a photo in ${FEWEST} to ${MOST} rows and columns, received ${rows} × ${columns}.`,
        { phrase: phrase('bed-grid-unfit', { least: FEWEST, most: MOST, rows, columns }) },
      );
  const [first, ...others] = photos;
  const read = [await readPhoto(first, card, rows, columns, seed)];
  for (const photo of others) read.push(await readPhoto(photo, card, rows, columns, seed));
  const { set, repeatability } = combinePhotos(read.map((one) => one.set));
  const { steps, covarianceL } = set;
  const cells = Array.from({ length: rows }, (_, r) =>
    steps.slice(r * columns, (r + 1) * columns).map(({ L, uL }) => ({ L, uL })),
  );
  const unlit = read.find(({ levelled }) => !APART.includes(levelled.illumination.method));
  const { illumination, tone } = read[0].levelled;
  return {
    rows,
    columns,
    cells,
    covarianceL,
    evenness: unlit
      ? lightUnknown(unlit.levelled.illumination)
      : readEvenness(cells, recorded, {
          errors: { covarianceL, ownVarianceL: steps.map(({ budget }) => budget.step ** 2), seed },
          ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
        }),
    repeatability: photos.length > 1 ? repeatability : null,
    illumination,
    tone,
    warnings: [
      ...new Map(
        read.flatMap(({ levelled }) => levelled.warnings).map((warning) => [warning.message, warning]),
      ).values(),
    ],
    methodVersion: METHOD_VERSION,
  };
};
