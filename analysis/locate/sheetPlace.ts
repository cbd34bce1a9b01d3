import type { Photo } from '../photo/photo.ts';
import { SHEET_MARKERS } from '../sheet/markers.ts';
import { project } from './homography.ts';
import { sharpMarker } from './sheetCorners.ts';
import { type Grey, greyPart, mayShowMarkers, reducedGrey } from './sheetGrey.ts';
import {
  detectMarkers,
  FEWEST_MARKERS,
  markerCorners,
  type PlacedSheet,
  placeSheet,
  type SeenMarker,
} from './sheetMarkers.ts';
import { loadVision, type Vision } from './sheetVision.ts';

/** Longer side of the picture that is searched first, and of the one for sheets that are small in it. */
const LOOK_PX = 720;
const CLOSE_PX = 1600;
/** A missing marker is looked for this far round where it should be, in its own sides. */
const ROUND = 0.75;

/** Where does a measuring sheet lie in this photo? Null where it shows none. Loads the detector only if it may show one. */
export const sheetOn = async (
  photo: Photo,
): Promise<{ readonly vision: Vision; readonly sheet: PlacedSheet } | null> => {
  const look = reducedGrey(photo, LOOK_PX);
  if (!mayShowMarkers(look)) return null;
  const { vision } = await loadVision();
  const markersIn = (grey: Grey): SeenMarker[] =>
    detectMarkers(vision, grey).map((marker) => sharpMarker(photo, marker, 2 * grey.scale));
  let seen = markersIn(look);
  if (seen.length < FEWEST_MARKERS && look.scale > 1) seen = markersIn(reducedGrey(photo, CLOSE_PX));
  const sheet = placeSheet(seen);
  if (!sheet) return null;
  const missing = SHEET_MARKERS.findIndex((_, corner) => !sheet.markers.some((m) => m.corner === corner));
  const part = missing < 0 ? null : greyPart(photo, CLOSE_PX, whereabouts(sheet, missing));
  if (!part) return { vision, sheet };
  const fourth = markersIn(part).filter(({ corner }) => corner === missing);
  return { vision, sheet: placeSheet([...sheet.markers, ...fourth]) ?? sheet };
};

/** Left, top, right and bottom, in pixels of the photo, of where a marker should be. */
const whereabouts = ({ toPhoto }: PlacedSheet, corner: number): [number, number, number, number] => {
  const quad = markerCorners(corner).map(([x, y]) => project(toPhoto, x, y));
  const [xs, ys] = [quad.map(([x]) => x), quad.map(([, y]) => y)];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  const room = ROUND * Math.max(right - left, bottom - top);
  return [left - room, top - room, right + room, bottom + room];
};
