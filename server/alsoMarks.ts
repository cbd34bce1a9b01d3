import type { Marks } from '../analysis/locate/marks.ts';
import { parseMarks } from '../analysis/locate/parseMarks.ts';
import { Refusal } from './refusal.ts';

/** Marks of further photos, in their order; none for those that are looked through. */
export const alsoMarksOf = (json: unknown, photos: number): readonly (Marks | null)[] => {
  if (json === undefined) return [];
  if (!Array.isArray(json) || json.length !== photos)
    throw new Refusal(
      'request-invalid',
      `"alsoMarks" must be a list with one entry for each further photo: ${photos}.`,
    );
  return json.map((one) => (one === null ? null : parseMarks(one)));
};

/** Further photos of one strip, each with its marks where it has any. */
export const furtherPhotos = (
  photos: readonly Uint8Array[],
  marksJson: unknown,
): readonly { readonly photo: Uint8Array; readonly marks?: Marks }[] => {
  const marks = alsoMarksOf(marksJson, photos.length);
  return photos.map((photo, i) => {
    const own = marks[i];
    return { photo, ...(own && { marks: own }) };
  });
};
