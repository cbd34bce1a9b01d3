import { z } from 'zod';
import { AnalysisError } from '../errors.ts';
import { firstIssue, issueOf } from '../firstIssue.ts';
import { phrase } from '../phrases.ts';
import type { Marked } from '../refusals.ts';
import type { Marks, Quad } from './marks.ts';
import { clockwise, isConvex } from './quadGeometry.ts';

const point = z.tuple([z.number(), z.number()]);
const quad = z.tuple([point, point, point, point]);
const provenance = {
  origin: z.enum(['hand', 'free-form', 'sheet']).default('hand'),
  confidence: z.number().min(0).max(1).default(1),
};

const marksShape = z.object({
  card: z
    .array(z.object({ name: z.string().trim().min(1).max(60), quad, ...provenance }))
    .min(1)
    .max(100),
  steps: z
    .array(z.object({ seconds: z.number().min(0), quad, ...provenance }))
    .min(1)
    .max(100),
  swatch: z.object({ quad }).optional(),
  surround: z.array(quad).max(20).optional(),
});

const checked = (given: Quad, what: string, of: Marked): Quad => {
  if (!isConvex(given))
    throw new AnalysisError(
      'marks-invalid',
      `The corners of ${what} do not make a four-sided area. Give them clockwise, without crossing sides.`,
      { phrase: phrase('mark-crossed', { of }) },
    );
  return clockwise(given);
};

/**
 * Where are card and steps in the photo, as a person or a program says? Takes parsed JSON
 * `{card: [{name, quad}], steps: [{seconds, quad}], swatch?: {quad}}`, pixels of the upright photo; corners that run
 * anticlockwise are turned round. Steps come back in rising exposure.
 *
 * @throws AnalysisError `marks-invalid`, with what to change.
 */
export const parseMarks = (json: unknown): Marks => {
  const parsed = marksShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'marks-invalid',
      `The marks can't be used: ${firstIssue(parsed.error)}. They need "card": [{"name", "quad"}] and "steps": [{"seconds", "quad"}], each quad four [x, y] corners in pixels.`,
      { phrase: phrase('marks-unreadable', { issue: issueOf(parsed.error), sheet: false }) },
    );
  const { swatch, surround } = parsed.data;
  return {
    ...(swatch && { swatch: { quad: checked(swatch.quad, 'the swatch', 'the swatch') } }),
    ...(surround && { surround: surround.map((area) => checked(area, 'the surround', 'the surround')) }),
    card: parsed.data.card.map((m) => ({
      ...m,
      quad: checked(m.quad, `card patch "${m.name}"`, { patch: m.name }),
    })),
    steps: parsed.data.steps
      .map((m) => ({ ...m, quad: checked(m.quad, `the step of ${m.seconds} s`, { seconds: m.seconds }) }))
      .sort((a, b) => a.seconds - b.seconds),
  };
};
