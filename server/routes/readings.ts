import type { Handler } from 'hono';
import { z } from 'zod';
import type { Target } from '../../analysis/advice/advice.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseTaps } from '../../analysis/locate/taps.ts';
import { phrase } from '../../analysis/phrases.ts';
import { alsoMarksOf, furtherPhotos } from '../alsoMarks.ts';
import type { Analyst, FurtherPhoto } from '../analyst.ts';
import type { ReadingAnswer } from '../contracts/answers.ts';
import { type LookAnswer, lookQuestion, photoKey } from '../contracts/look.ts';
import { readOptions } from '../contracts/readOptions.ts';
import { MOST_FURTHER } from '../contracts/recordReadings.ts';
import { target as targetShape } from '../contracts/target.ts';
import { type FormFields, readForm } from '../formFields.ts';
import { bodyBy, parsedBy } from '../parsedBy.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';
import { Refusal } from '../refusal.ts';

const parseTarget = (json: unknown): Target => {
  const parsed = targetShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'target-invalid',
      'The target must be an L* from 0 to 100, a depth above 0 and up to 100 %, full depth, or a swatch.',
      { phrase: phrase('target-unfit', {}) },
    );
  return parsed.data;
};

/** The photo as it was sent, or as the server still holds it. */
const photoOf = async (
  form: FormFields,
  previews: PhotoPreviews,
): Promise<{ readonly photo: Uint8Array; readonly key?: string }> => {
  const given = form.json('photoKey');
  if (given === undefined) return { photo: await form.photo() };
  const key = parsedBy(photoKey, given);
  return { photo: previews.photo(key), key };
};

const furtherOf = async (form: FormFields, previews: PhotoPreviews): Promise<readonly FurtherPhoto[]> => {
  const given = form.json('alsoKeys');
  const sent = await form.otherPhotos('also');
  if (given === undefined) return furtherPhotos(sent, form.json('alsoMarks'));
  const keys = parsedBy(z.array(photoKey).max(MOST_FURTHER), given);
  if (sent.length > 0) throw new Refusal('request-invalid', 'Send further photos or their keys, not both.');
  const marks = alsoMarksOf(form.json('alsoMarks'), keys.length);
  return keys.map((key, i) => {
    const own = marks[i];
    return { photo: previews.photo(key), key, ...(own && { marks: own }) };
  });
};

/**
 * POST /api/readings: a form with `photo` and JSON in `strip`, and if wanted `marks`, `taps`, `target`, `timerStepSeconds`
 * and `verdictSettings`; further photos of the strip in `also`, with a list in `alsoMarks` where they have marks. Photos
 * that the server still holds may be named by their keys in `photoKey` and `alsoKeys`.
 */
export const postReading =
  (previews: PhotoPreviews): Handler =>
  async (c) => {
    const form = await readForm(c);
    const photo = await photoOf(form, previews);
    const description = form.json('strip');
    if (description === undefined)
      throw new AnalysisError('strip-invalid', 'The form has no "strip": describe card and steps as JSON.', {
        phrase: phrase('strip-missing', {}),
      });
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
    const also = await furtherOf(form, previews);
    if (also.length > MOST_FURTHER)
      throw new Refusal(
        'request-invalid',
        `A strip may have up to ${MOST_FURTHER + 1} photos; ${also.length + 1} were sent. Choose the best of them.`,
        { phrase: phrase('photos-many', { most: MOST_FURTHER + 1, given: also.length + 1 }) },
      );
    const answer: ReadingAnswer = await previews.withReading(
      {
        kind: 'read',
        ...photo,
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

/** POST /api/steps: what the steps come to while their marks are being moved. */
export const postSteps =
  (analyst: Analyst, previews: PhotoPreviews): Handler =>
  async (c) => {
    const { photos, strip } = await bodyBy(c, lookQuestion);
    const answer: LookAnswer = await analyst.look(
      {
        kind: 'look',
        photos: photos.map(({ key, marks }) => ({
          photo: previews.photo(key),
          key,
          marks: parseMarks(marks),
        })),
        strip: parseStrip(strip),
      },
      c.req.raw.signal,
    );
    return c.json(answer);
  };
