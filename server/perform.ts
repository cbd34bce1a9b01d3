import { readStripPhotos } from '../analysis/index.ts';
import { planOnPhoto } from '../analysis/locate/sheetPlan.ts';
import { lookAtSteps } from '../analysis/lookAtSteps.ts';
import { decodePhoto, decodeToMeasure } from '../analysis/photo/decode.ts';
import type { Photo } from '../analysis/photo/photo.ts';
import { previewJpeg, previewOf } from '../analysis/photo/preview.ts';
import type { Reading } from '../analysis/reading.ts';
import { combinePhotos } from '../analysis/steps/combinePhotos.ts';
import { type Answers, answerTo, type QuestionName } from './across/questions.ts';
import type {
  AskTask,
  FurtherPhoto,
  LookTask,
  PaperTask,
  PreviewTask,
  ReadAndPreview,
  ReadAndPreviewTask,
  ReadTask,
  SheetTask,
} from './analyst.ts';
import { CommandError } from './commands/command.ts';
import type { LookAnswer } from './contracts/look.ts';
import { decodedOnce, wholeOnce } from './heldPhotos.ts';
import { reportPdf } from './papers/reportPdf.ts';
import { sheetPdf } from './papers/sheetPdf.ts';
import { Refusal } from './refusal.ts';
import type { PreviewImage } from './shelf.ts';

const furtherOf = async ({ photo, key, marks }: FurtherPhoto) => ({
  bytes: photo,
  ...(key !== undefined && { decoded: await decodedOnce(key, photo) }),
  ...(marks && { marks }),
});

const readAll = async (
  { kind, photo, key, strip, marks, taps, also = [], ...options }: ReadTask,
  known?: Photo,
): Promise<Reading> => {
  const decoded = known ?? (key === undefined ? undefined : await decodedOnce(key, photo));
  const first = { bytes: photo, ...(decoded && { decoded }), ...(marks && { marks }), ...(taps && { taps }) };
  return readStripPhotos([first, ...(await Promise.all(also.map(furtherOf)))], strip, options);
};

/** Reads one strip. Runs in the worker; in tests, wherever it is called. */
export const performRead = (task: ReadTask): Promise<Reading> => readAll(task);

/** Reads the steps alone, under marks that are being moved. */
export const performLook = async ({ photos, strip }: LookTask): Promise<LookAnswer> => {
  const sets = [];
  for (const { photo, key, marks } of photos)
    sets.push(
      await lookAtSteps(
        {
          bytes: photo,
          decoded: await decodedOnce(key, photo),
          marks,
          whole: () => wholeOnce(key, photo),
        },
        strip,
      ),
    );
  const { steps } = combinePhotos(sets).set;
  return { steps: steps.map(({ seconds, L, a, b, uL }) => ({ seconds, L, a, b, uL })) };
};

/** Reads one strip and makes its small picture; the photo is decoded once for both. */
export const performReadAndPreview = async ({
  read,
  widthPx,
}: ReadAndPreviewTask): Promise<ReadAndPreview> => {
  const decoded =
    read.key === undefined ? await decodeToMeasure(read.photo) : await decodedOnce(read.key, read.photo);
  // The picture is packed on another thread while this one reads.
  const small = previewOf(decoded, { widthPx });
  const [{ jpeg, photoWidthPx, photoHeightPx }, reading] = await Promise.all([small, readAll(read, decoded)]);
  const { planId } = reading;
  return { reading, preview: { jpeg, photoWidthPx, photoHeightPx, ...(planId !== undefined && { planId }) } };
};

/**
 * Makes the small picture that the page shows, for formats too that browsers can't show, and reads which plan a
 * measuring sheet in it names.
 */
export const performPreview = async ({ photo, widthPx }: PreviewTask): Promise<PreviewImage> => {
  const decoded = await decodePhoto(photo);
  const [{ jpeg, photoWidthPx, photoHeightPx }, planId] = await Promise.all([
    previewOf(decoded, { widthPx }),
    planOnPhoto(decoded),
  ]);
  return { jpeg, photoWidthPx, photoHeightPx, ...(planId !== null && { planId }) };
};

/** Wide enough for half a page at 300 dots an inch. */
const PAPER_PHOTO_PX = 1400;

/** Puts a reading on paper, with its photo where there is one; or draws a measuring sheet. */
export const performPaper = async (task: PaperTask | SheetTask): Promise<Uint8Array> => {
  if (task.kind === 'sheet') return sheetPdf(task.sheet);
  const { report, photo } = task;
  return reportPdf({ ...report, photo: photo && (await previewJpeg(photo, { widthPx: PAPER_PHOTO_PX })) });
};

/** Answers a question about kept readings. A reading that can't be used is the request's fault here. */
export const performAsk = async <N extends QuestionName>({
  name,
  json,
  photos,
}: AskTask<N>): Promise<Answers[N]> => {
  try {
    return await answerTo(name, json, photos);
  } catch (error) {
    if (error instanceof CommandError) throw new Refusal('request-invalid', error.message);
    throw error;
  }
};
