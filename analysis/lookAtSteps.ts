import type { Strip } from './level/card.ts';
import { level } from './level/level.ts';
import type { Marks } from './locate/marks.ts';
import { placeMarks } from './locate/placeMarks.ts';
import type { Photo } from './photo/photo.ts';
import { readSteps } from './steps/readSteps.ts';
import type { StepSet } from './steps/step.ts';
import { cutTiles } from './tiles/cutTiles.ts';

/**
 * What would the steps come to with the marks here? The part of `readStripPhotos` that follows while a hand moves marks:
 * the same L*, a*, b* and u(L*), without check, curve and advice.
 *
 * @param photo as `decodePhoto` gives it. @param marks in pixels of the upright photo.
 * @param strip what was exposed, and the card beside it. @param seed of everything drawn at random.
 * @returns the steps of this photo, in rising exposure, for `combinePhotos`.
 * @throws AnalysisError `marks-invalid`, `marks-outside-photo`, `marks-too-small`, `card-unusable`.
 */
export const lookAtSteps = (photo: Photo, marks: Marks, strip: Strip, seed = 1): StepSet => {
  const placed = placeMarks(photo, strip, marks);
  return readSteps(level(cutTiles(photo, placed.marks), strip, photo.profile, seed), photo.profile);
};
