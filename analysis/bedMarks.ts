import { z } from 'zod';
import { AnalysisError } from './errors.ts';
import { firstIssue, issueOf } from './firstIssue.ts';
import { patchOf, unitSquareTo } from './locate/homography.ts';
import type { CardMark, Marks, Quad } from './locate/marks.ts';
import { parseMarks } from './locate/parseMarks.ts';
import { phrase } from './phrases.ts';

/** Where card and sheet are in one photo. */
export interface BedMarks {
  readonly card: readonly CardMark[];
  /** Corners of the sheet as it lay on the bed: top left, top right, bottom right, bottom left, wherever they are in the photo. */
  readonly sheet: Quad;
}

const shape = z.object({ card: z.array(z.unknown()).min(1), sheet: z.object({ quad: z.unknown() }) });

/**
 * Where are card and sheet, as a person or a program says? Takes parsed JSON `{card: [{name, quad}], sheet: {quad}}`,
 * pixels of the upright photo. The sheet's corners go round as it lay on the bed, from its top left; in a photo turned
 * end for end that corner lies at the bottom right.
 *
 * @throws AnalysisError `marks-invalid`, with what to change.
 */
export const parseBedMarks = (json: unknown): BedMarks => {
  const parsed = shape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'marks-invalid',
      `The marks can't be used: ${firstIssue(parsed.error)}. They need "card": [{"name", "quad"}] and "sheet": {"quad"}, each quad four [x, y] corners in pixels.`,
      { phrase: phrase('marks-unreadable', { issue: issueOf(parsed.error), sheet: true }) },
    );
  const { card, sheet } = parsed.data;
  const marks = parseMarks({ card, steps: [{ seconds: 0, quad: sheet.quad }] });
  return { card: marks.card, sheet: marks.steps[0].quad };
};

/**
 * The sheet cut into cells, row by row from its top left; a cell's place stands in for a step's exposure.
 *
 * @throws AnalysisError `marks-invalid` where its corners make no area.
 */
export const cellMarks = ({ card, sheet }: BedMarks, rows: number, columns: number): Marks => {
  const square = unitSquareTo(sheet);
  if (!square)
    throw new AnalysisError(
      'marks-invalid',
      'The corners of the sheet do not make a four-sided area. Set them again.',
      { phrase: phrase('mark-crossed', { of: 'the sheet' }) },
    );
  return {
    card,
    steps: Array.from({ length: rows * columns }, (_, k) => {
      const [row, column] = [Math.floor(k / columns), k % columns];
      return {
        seconds: k,
        quad: patchOf(square, column / columns, (column + 1) / columns, row / rows, (row + 1) / rows),
        origin: 'hand' as const,
        confidence: 1,
      };
    }),
  };
};
