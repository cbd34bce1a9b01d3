import { MARKER_AT, MARKER_MM } from '../sheet/layout.ts';
import { SHEET_MARKERS } from '../sheet/markers.ts';
import { fitHomography, type Homography, project } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { isConvex, signedArea } from './quadGeometry.ts';
import type { Grey } from './sheetGrey.ts';
import { tidy, type Vision } from './sheetVision.ts';

/** One of the sheet's markers in the photo. */
export interface SeenMarker {
  /** Which of the four, in the order of SHEET_MARKERS. */
  readonly corner: number;
  /** Pixels of the upright photo, from the marker's own upper left corner clockwise. */
  readonly quad: Quad;
}

/** Which of the sheet's markers are in this picture? Others of the dictionary are passed over. */
export const detectMarkers = (vision: Vision, grey: Grey): SeenMarker[] =>
  tidy((keep) => {
    const image = keep(new vision.Mat(grey.heightPx, grey.widthPx, vision.CV_8UC1));
    image.data.set(grey.data);
    const detector = keep(
      new vision.aruco_ArucoDetector(
        keep(vision.getPredefinedDictionary(vision.DICT_ARUCO_MIP_36h12)),
        keep(parametersFor(vision)),
        keep(new vision.aruco_RefineParameters(10, 3, true)),
      ),
    );
    const corners = keep(new vision.MatVector());
    const ids = keep(new vision.Mat());
    detector.detectMarkers(image, corners, ids);
    const seen: SeenMarker[] = [];
    for (let i = 0; i < corners.size(); i++) {
      const corner = SHEET_MARKERS.findIndex(({ id }) => id === ids.data32S[i]);
      const at = keep(corners.get(i)).data32F;
      // OpenCV counts from the middle of the first pixel, we from its corner.
      const point = (k: number): Point => [
        grey.leftPx + (at[2 * k] + 0.5) * grey.scale,
        grey.topPx + (at[2 * k + 1] + 0.5) * grey.scale,
      ];
      const quad: Quad = [point(0), point(1), point(2), point(3)];
      if (corner >= 0 && isConvex(quad) && signedArea(quad) > 0) seen.push({ corner, quad });
    }
    return seen;
  });

/** Two neighbourhoods, px, against which a pixel is told dark or light: markers are black on white, not hidden. */
const NEIGHBOURHOODS = { least: 11, most: 23 } as const;

const parametersFor = (vision: Vision): InstanceType<Vision['aruco_DetectorParameters']> => {
  const parameters = new vision.aruco_DetectorParameters();
  parameters.adaptiveThreshWinSizeMin = NEIGHBOURHOODS.least;
  parameters.adaptiveThreshWinSizeMax = NEIGHBOURHOODS.most;
  parameters.adaptiveThreshWinSizeStep = NEIGHBOURHOODS.most - NEIGHBOURHOODS.least;
  return parameters;
};

/** A marker's corners on the sheet, millimetres, as in `SeenMarker`. */
export const markerCorners = (corner: number): Quad => {
  const { x, y } = MARKER_AT[corner];
  return [
    [x, y],
    [x + MARKER_MM, y],
    [x + MARKER_MM, y + MARKER_MM],
    [x, y + MARKER_MM],
  ];
};

/** The sheet as it lies in the photo. */
export interface PlacedSheet {
  /** Millimetres of the measuring field → pixels of the upright photo. */
  readonly toPhoto: Homography;
  readonly markers: readonly SeenMarker[];
  /** Root mean square distance of the markers' corners from where a flat sheet has them, mm. */
  readonly strainMm: number;
}

/** Corners off by more than this are not those of one sheet, bent as it may be. */
const MOST_STRAIN_MM = 4;
export const FEWEST_MARKERS = 3;

/**
 * Do these markers lie as on one sheet? Three of the four are enough; each of them once, none mirrored, all where
 * one projection puts them.
 */
export const placeSheet = (seen: readonly SeenMarker[]): PlacedSheet | null => {
  const markers = SHEET_MARKERS.flatMap((_, corner) => {
    const alike = seen.filter((m) => m.corner === corner);
    return alike.length === 1 ? alike : [];
  });
  if (markers.length < FEWEST_MARKERS) return null;
  const from = markers.flatMap((m) => [...markerCorners(m.corner)]);
  const to = markers.flatMap((m) => [...m.quad]);
  const toPhoto = fitHomography(from, to);
  if (!toPhoto) return null;
  let sum = 0;
  from.forEach((mm, i) => {
    const [x, y] = project(toPhoto, mm[0], mm[1]);
    const [rightX, rightY] = project(toPhoto, mm[0] + 1, mm[1]);
    const [downX, downY] = project(toPhoto, mm[0], mm[1] + 1);
    const pxPerMm = Math.sqrt(Math.abs((rightX - x) * (downY - y) - (rightY - y) * (downX - x)));
    sum += (Math.hypot(to[i][0] - x, to[i][1] - y) / pxPerMm) ** 2;
  });
  const strainMm = Math.sqrt(sum / from.length);
  return strainMm <= MOST_STRAIN_MM ? { toPhoto, markers, strainMm } : null;
};
