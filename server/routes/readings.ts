import type { Handler } from 'hono';
import type { Target } from '../../analysis/advice/advice.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseTaps } from '../../analysis/locate/taps.ts';
import type { ReadingAnswer } from '../contracts/answers.ts';
import { target as targetShape } from '../contracts/target.ts';
import { readForm } from '../formFields.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';

const parseTarget = (json: unknown): Target => {
  const parsed = targetShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'target-invalid',
      'The target must be an L* from 0 to 100, a depth above 0 and up to 100 %, full depth, or a swatch.',
    );
  return parsed.data;
};

/** POST /api/readings: a form with `photo` and JSON in `strip`, and if wanted `marks`, `taps` and `target`. */
export const postReading =
  (previews: PhotoPreviews): Handler =>
  async (c) => {
    const form = await readForm(c);
    const photo = await form.photo();
    const description = form.json('strip');
    if (description === undefined)
      throw new AnalysisError('strip-invalid', 'The form has no "strip": describe card and steps as JSON.');
    const strip = parseStrip(description);
    const marks = form.json('marks');
    const taps = form.json('taps');
    const target = form.json('target');
    const answer: ReadingAnswer = await previews.withReading(
      {
        kind: 'read',
        photo,
        strip,
        ...(marks !== undefined && { marks: parseMarks(marks) }),
        ...(taps !== undefined && { taps: parseTaps(taps) }),
        ...(target !== undefined && { target: parseTarget(target) }),
      },
      c.req.raw.signal,
    );
    return c.json(answer);
  };
