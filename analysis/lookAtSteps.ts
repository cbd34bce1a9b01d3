import type { Strip } from './level/card.ts';
import { level } from './level/level.ts';
import type { Marks } from './locate/marks.ts';
import { placeMarks } from './locate/placeMarks.ts';
import { markedPicture } from './markedPicture.ts';
import type { Photo } from './photo/photo.ts';
import { readSteps } from './steps/readSteps.ts';
import type { StepSet } from './steps/step.ts';
import { cutTiles } from './tiles/cutTiles.ts';

/**
 * What would the steps come to with the marks here? The part of `readStripPhotos` that follows while a hand moves marks:
 * the same L*, a*, b* and u(L*), without check, curve and advice.
 *
 * @param photo the file's bytes, its picture as `decodeToMeasure` gives it, marks in pixels of the upright photo, and what
 *   brings the whole photo, where marks are too small for that picture.
 * @param strip what was exposed, and the card beside it. @param seed of everything drawn at random.
 * @returns the steps of this photo, in rising exposure, for `combinePhotos`.
 * @throws AnalysisError `marks-invalid`, `marks-outside-photo`, `marks-too-small`, `card-unusable`.
 */
export const lookAtSteps = async (
  {
    bytes,
    decoded,
    marks,
    whole,
  }: {
    readonly bytes: Uint8Array;
    readonly decoded: Photo;
    readonly marks: Marks;
    readonly whole?: () => Promise<Photo>;
  },
  strip: Strip,
  seed = 1,
): Promise<StepSet> => {
  const placed = placeMarks(decoded, strip, marks);
  const { photo, marks: inPicture } = await markedPicture(bytes, decoded, placed.marks, whole);
  return readSteps(level(cutTiles(photo, inPicture), strip, photo.profile, seed), photo.profile);
};
