import type { Photo } from '../photo/photo.ts';
import { pixelsJoined } from '../photo/reduction.ts';
import type { Marks, Point, Quad } from './marks.ts';
import type { Taps } from './taps.ts';

type Place = (point: Point) => Point;

const quadAt = ([a, b, c, d]: Quad, at: Place): Quad => [at(a), at(b), at(c), at(d)];

const marksAt = (marks: Marks, at: Place): Marks => ({
  ...marks,
  card: marks.card.map((mark) => ({ ...mark, quad: quadAt(mark.quad, at) })),
  steps: marks.steps.map((mark) => ({ ...mark, quad: quadAt(mark.quad, at) })),
  ...(marks.swatch && { swatch: { ...marks.swatch, quad: quadAt(marks.swatch.quad, at) } }),
  ...(marks.surround && { surround: marks.surround.map((quad) => quadAt(quad, at)) }),
});

/** Marks in pixels of the photo itself, restated in pixels of the picture that was decoded of it. */
export const marksInPicture = (marks: Marks, picture: Photo): Marks => {
  if (!picture.full) return marks;
  const [across, down] = pixelsJoined(picture);
  return marksAt(marks, ([x, y]) => [x / across, y / down]);
};

/** Marks in pixels of the decoded picture, restated in pixels of the photo itself. */
export const marksInPhoto = (marks: Marks, picture: Photo): Marks => {
  if (!picture.full) return marks;
  const [across, down] = pixelsJoined(picture);
  return marksAt(marks, ([x, y]) => [x * across, y * down]);
};

/** Taps on the photo, restated in pixels of the decoded picture. */
export const tapsInPicture = (taps: Taps, picture: Photo): Taps => {
  if (!picture.full) return taps;
  const [across, down] = pixelsJoined(picture);
  return Object.fromEntries(
    Object.entries(taps).map(([what, tap]) => [what, tap && [tap[0] / across, tap[1] / down]]),
  );
};
