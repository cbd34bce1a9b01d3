import type { Photo } from '../photo/photo.ts';
import { readCode } from './sheetCode.ts';
import { sheetOn } from './sheetPlace.ts';

/**
 * Which plan does the measuring sheet in this photo name? Needs neither card nor times, so that both can be filled in
 * from the plan before the strip is read.
 *
 * @param photo upright photo.
 * @returns the plan's id; null where the photo shows no sheet, or its code can't be read or names no plan.
 */
export const planOnPhoto = async (photo: Photo): Promise<string | null> => {
  const placed = await sheetOn(photo);
  return placed && readCode(placed.vision, photo, placed.sheet.toPhoto);
};
