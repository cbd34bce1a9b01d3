import type { Handler } from 'hono';
import type { Target } from '../../analysis/advice/advice.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseTaps } from '../../analysis/locate/taps.ts';
import { furtherPhotos } from '../alsoMarks.ts';
import type { ReadingAnswer } from '../contracts/answers.ts';
import { readOptions } from '../contracts/readOptions.ts';
import { MOST_FURTHER } from '../contracts/recordReadings.ts';
import { target as targetShape } from '../contracts/target.ts';
import { readForm } from '../formFields.ts';
import { parsedBy } from '../parsedBy.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';
import { Refusal } from '../refusal.ts';

const parseTarget = (json: unknown): Target => {
  const parsed = targetShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'target-invalid',
      'The target must be an L* from 0 to 100, a depth above 0 and up to 100 %, full depth, or a swatch.',
    );
  return parsed.data;
};

/**
 * POST /api/readings: a form with `photo` and JSON in `strip`, and if wanted `marks`, `taps`, `target`, `timerStepSeconds`
 * and `verdictSettings`; further photos of the strip in `also`, with a list in `alsoMarks` where they have marks.
 */
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
    const timerStepSeconds = form.json('timerStepSeconds');
    const verdictSettings = form.json('verdictSettings');
    const settings = parsedBy(readOptions, {
      ...(timerStepSeconds !== undefined && { timerStepSeconds }),
      ...(verdictSettings !== undefined && { verdictSettings }),
    });
    const also = furtherPhotos(await form.otherPhotos('also'), form.json('alsoMarks'));
    if (also.length > MOST_FURTHER)
      throw new Refusal(
        'request-invalid',
        `A strip may have up to ${MOST_FURTHER + 1} photos; ${also.length + 1} were sent. Choose the best of them.`,
      );
    const answer: ReadingAnswer = await previews.withReading(
      {
        kind: 'read',
        photo,
        strip,
        ...(marks !== undefined && { marks: parseMarks(marks) }),
        ...(taps !== undefined && { taps: parseTaps(taps) }),
        ...(target !== undefined && { target: parseTarget(target) }),
        ...(also.length > 0 && { also }),
        ...settings,
      },
      c.req.raw.signal,
    );
    return c.json(answer);
  };
