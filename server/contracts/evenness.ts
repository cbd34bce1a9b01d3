import { z } from 'zod';
import { figure, keptReading, seed, warning } from './figure.ts';
import { quad } from './marks.ts';
import { phrase } from './phrase.ts';
import { reading } from './reading.ts';
import { cardKind, stripDescription } from './strip.ts';

const lightness = z.number().min(0).max(100);
const uncertainty = z.number().positive().max(50);

/** Uncertainty of a cell against the others where none is said: a well-lit photo. Common practice, no source. */
const USUAL_U = 0.5;

/** The cells of a sheet: rows from the top, each an L*, an L* with its own uncertainty, or null where it can't be read. */
export const sheetCells = z
  .object({
    uL: uncertainty.default(USUAL_U),
    cells: z
      .array(
        z
          .array(z.union([lightness, z.object({ L: lightness, uL: uncertainty }).readonly(), z.null()]))
          .max(1000)
          .readonly(),
      )
      .max(1000)
      .readonly(),
  })
  .readonly();
export type SheetCells = z.infer<typeof sheetCells>;

/** Body of POST /api/evenness/cells, for cells read elsewhere: what `tonestep evenness CELLS.json` takes. */
export const evennessQuestion = z
  .strictObject({
    ...sheetCells.unwrap().shape,
    /** A reading of the same dye on the same cloth. */
    curve: keptReading,
    /** How far the light may differ where the bed is used, ± percent; 10 when left out. */
    tolerancePercent: z.number().min(1).max(50).exactOptional(),
    seed: seed.exactOptional(),
  })
  .readonly();
export type EvennessQuestion = z.infer<typeof evennessQuestion>;

/** What lies in the photo of a sheet: the card beside it, and into how many cells it is cut. */
export const bedDescription = z
  .strictObject({
    card: z.union(stripDescription.unwrap().shape.card.options, {
      error: `needs the name of a card (${cardKind.options.join(', ')}) or {"patches": [{"name": "white", "Y": 0.9}, …]}`,
    }),
    rows: z.number().int().min(3).max(12).exactOptional(),
    columns: z.number().int().min(3).max(12).exactOptional(),
  })
  .readonly();
export type BedDescription = z.infer<typeof bedDescription>;

/** Card patches, and the sheet's corners as they lay on the bed, from its top left round by its top right. */
export const bedMarks = z
  .object({
    card: z.array(z.object({ name: z.string(), quad }).readonly()).readonly(),
    sheet: z.object({ quad }).readonly(),
  })
  .readonly();

/** The JSON fields of a form to POST /api/evenness. */
export const bedQuestion = z
  .strictObject({
    bed: bedDescription,
    marks: bedMarks,
    /** Marks of the second photo. */
    alsoMarks: bedMarks.exactOptional(),
    curve: keptReading,
    tolerancePercent: z.number().min(1).max(50).exactOptional(),
    seed: seed.exactOptional(),
  })
  .readonly();
export type BedQuestion = z.infer<typeof bedQuestion>;

/** The whole form: a photo of the sheet and, where there is one, another with the sheet turned end for end. */
export const bedForm = bedQuestion.unwrap().extend({ photo: z.file(), also: z.file().exactOptional() });

const grid = z.array(z.array(z.number().nullable()).readonly()).readonly();

export const evenness = z.discriminatedUnion('kind', [
  z
    .object({
      kind: z.literal('not-readable'),
      tooPale: z.number().int(),
      tooDeep: z.number().int(),
      missing: z.number().int(),
      sentence: z.string(),
      phrase: phrase.exactOptional(),
    })
    .readonly(),
  z
    .object({ kind: z.literal('light-unknown'), sentence: z.string(), phrase: phrase.exactOptional() })
    .readonly(),
  z
    .object({
      kind: z.literal('map'),
      relativeDose: grid,
      relativeU: grid,
      basis: z.enum(['smooth', 'cells']),
      tolerancePercent: z.number(),
      usableShare: figure,
      usableArea: z
        .object({
          row: z.number().int(),
          column: z.number().int(),
          rows: z.number().int(),
          columns: z.number().int(),
        })
        .readonly()
        .nullable(),
      doseRatio: figure,
      regions: z
        .array(
          z
            .object({
              name: z.enum([
                'top left',
                'top',
                'top right',
                'left',
                'middle',
                'right',
                'bottom left',
                'bottom',
                'bottom right',
              ]),
              doseRatio: z.number().nullable(),
              relativeU: z.number().nullable(),
            })
            .readonly(),
        )
        .readonly(),
      pattern: z
        .object({
          code: z.enum([
            'even',
            'one-side-low',
            'edges-low',
            'middle-low',
            'one-band-low',
            'bands',
            'corner-low',
            'patchy',
            'not-separable',
          ]),
          where: z.string().nullable(),
          text: z.string(),
          phrase: phrase.exactOptional(),
        })
        .readonly(),
      /** What the photo's own light leaves open from edge to edge, percent of the dose; null where cells err by themselves. */
      openPercent: z.object({ across: z.number(), down: z.number() }).readonly().nullable(),
      warnings: z.array(warning).readonly(),
      sentence: z.string(),
      phrase: phrase.exactOptional(),
    })
    .readonly(),
]);

const { illumination, tone, repeatability } = reading.unwrap().shape;

/** A sheet as it was read from its photo. */
export const sheetReading = z
  .object({
    rows: z.number().int(),
    columns: z.number().int(),
    cells: z.array(z.array(z.object({ L: z.number(), uL: z.number() }).readonly()).readonly()).readonly(),
    illumination,
    tone,
    repeatability,
    warnings: z.array(warning).readonly(),
    methodVersion: z.string(),
  })
  .readonly();
export type SheetReading = z.infer<typeof sheetReading>;

/** Answer to POST /api/evenness and /api/evenness/cells. `sheet`: what was read from a photo; null where cells were sent. */
export const evennessAnswer = z.object({ evenness, sheet: sheetReading.nullable() }).readonly();
export type EvennessAnswer = z.infer<typeof evennessAnswer>;
