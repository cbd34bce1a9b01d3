import { marksInPicture } from './locate/inPicture.ts';
import type { Marks } from './locate/marks.ts';
import { decodePhoto } from './photo/decode.ts';
import type { Photo } from './photo/photo.ts';
import { holdEnoughTiles } from './tiles/tilePatch.ts';

/**
 * In which picture of this photo are these marks measured: in the one with fewer pixels, where each area still holds
 * enough tiles there, or else in the whole one?
 *
 * @param picture of this photo, decoded already. @param marks in pixels of the photo itself.
 * @param whole brings the whole photo, where the caller may have it already.
 * @returns picture, and the marks in its pixels.
 */
export const markedPicture = async (
  bytes: Uint8Array,
  picture: Photo,
  marks: Marks,
  whole: () => Promise<Photo> = () => decodePhoto(bytes),
): Promise<{ readonly photo: Photo; readonly marks: Marks }> => {
  const here = marksInPicture(marks, picture);
  if (!picture.full || holdEnoughTiles(here)) return { photo: picture, marks: here };
  return { photo: await whole(), marks };
};
