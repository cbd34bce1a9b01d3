import type { Photo } from '../photo/photo.ts';
import { readCode } from './sheetCode.ts';
import { sharpMarker } from './sheetCorners.ts';
import { mayShowMarkers, reducedGrey } from './sheetGrey.ts';
import { detectMarkers, placeSheet } from './sheetMarkers.ts';
import { loadVision } from './sheetVision.ts';

const GREY_SIDE_PX = 1600;

/**
 * Which plan does the measuring sheet in this photo name? Needs neither card nor times, so that both can be filled in
 * from the plan before the strip is read.
 *
 * @param photo upright photo.
 * @returns the plan's id; null where the photo shows no sheet, or its code can't be read or names no plan.
 */
export const planOnPhoto = async (photo: Photo): Promise<string | null> => {
  const grey = reducedGrey(photo, GREY_SIDE_PX);
  if (!mayShowMarkers(grey)) return null;
  const { vision } = await loadVision();
  const seen = detectMarkers(vision, grey).map((marker) => sharpMarker(photo, marker, 2 * grey.scale));
  const sheet = placeSheet(seen);
  return sheet && readCode(vision, photo, sheet.toPhoto);
};
