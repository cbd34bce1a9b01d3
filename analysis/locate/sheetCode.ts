import type { Photo } from '../photo/photo.ts';
import { CODE_AREA } from '../sheet/layout.ts';
import { readPlanCode } from '../sheet/planCode.ts';
import type { Homography } from './homography.ts';
import { greenAt } from './sheetGrey.ts';
import { tidy, type Vision, type VisionMat } from './sheetVision.ts';

/** Where the code is on a flat sheet its corners are known; on a curled one it is looked for, in more detail. */
const FLAT = { pxPerMm: 5, marginMm: 3 } as const;
const CURLED = { pxPerMm: 8, marginMm: 4.5 } as const;

/** Which plan does the sheet's square code name? Null where it has none, or it can't be read. */
export const readCode = (vision: Vision, photo: Photo, toPhoto: Homography): string | null =>
  tidy((keep) => {
    const detector = keep(new vision.QRCodeDetector());
    const near = keep(codePicture(vision, photo, toPhoto, FLAT));
    const corners = keep(new vision.Mat(1, 4, vision.CV_32FC2));
    const first = FLAT.marginMm * FLAT.pxPerMm;
    const last = near.rows - first;
    corners.data32F.set([first, first, last, first, last, last, first, last]);
    return (
      readPlanCode(detector.decode(near, corners)) ??
      readPlanCode(detector.detectAndDecode(keep(codePicture(vision, photo, toPhoto, CURLED))))
    );
  });

/** The code's square and some paper round it, seen from above. */
const codePicture = (
  vision: Vision,
  photo: Photo,
  toPhoto: Homography,
  { pxPerMm, marginMm }: { readonly pxPerMm: number; readonly marginMm: number },
): VisionMat => {
  const side = Math.round((CODE_AREA.width + 2 * marginMm) * pxPerMm);
  const image = new vision.Mat(side, side, vision.CV_8UC1);
  const { data } = image;
  const [a, b, c, d, e, f, g, h, i] = toPhoto;
  const unit = 255 / photo.maxCode;
  for (let row = 0, at = 0; row < side; row++) {
    const y = CODE_AREA.y - marginMm + (row + 0.5) / pxPerMm;
    for (let column = 0; column < side; column++, at++) {
      const x = CODE_AREA.x - marginMm + (column + 0.5) / pxPerMm;
      const w = 1 / (g * x + h * y + i);
      data[at] = unit * greenAt(photo, (a * x + b * y + c) * w, (d * x + e * y + f) * w);
    }
  }
  return image;
};
