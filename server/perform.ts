import { readStrip } from '../analysis/index.ts';
import { previewJpeg } from '../analysis/photo/preview.ts';
import type { Reading } from '../analysis/reading.ts';
import { type Answers, answerTo, type QuestionName } from './across/questions.ts';
import type { AskTask, PreviewTask, ReadTask } from './analyst.ts';
import { CommandError } from './commands/command.ts';
import { Refusal } from './refusal.ts';
import type { PreviewImage } from './shelf.ts';

/** Reads one strip. Runs in the worker; in tests, wherever it is called. */
export const performRead = ({ photo, strip, marks, target }: ReadTask): Promise<Reading> =>
  readStrip(photo, strip, { ...(marks && { marks }), ...(target && { target }) });

/** Makes the small picture that the page shows, for formats too that browsers can't show. */
export const performPreview = async ({ photo, widthPx }: PreviewTask): Promise<PreviewImage> => {
  const { jpeg, photoWidthPx, photoHeightPx } = await previewJpeg(photo, { widthPx });
  return { jpeg, photoWidthPx, photoHeightPx };
};

/** Answers a question about kept readings. A reading that can't be used is the request's fault here. */
export const performAsk = async <N extends QuestionName>({ name, json }: AskTask<N>): Promise<Answers[N]> => {
  try {
    return answerTo(name, json);
  } catch (error) {
    if (error instanceof CommandError) throw new Refusal('request-invalid', error.message);
    throw error;
  }
};
