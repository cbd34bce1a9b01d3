import type { Photo } from '../photo/photo.ts';
import { CODE_AREA } from '../sheet/layout.ts';
import { readPlanCode } from '../sheet/planCode.ts';
import { type Homography, project } from './homography.ts';
import { greenAt } from './sheetGrey.ts';
import { tidy, type Vision } from './sheetVision.ts';

const PX_PER_MM = 8;
const MARGIN_MM = 4.5;

/** Which plan does the sheet's square code name? Null where it has none, or it can't be read. */
export const readCode = (vision: Vision, photo: Photo, toPhoto: Homography): string | null =>
  tidy((keep) => {
    const side = Math.round((CODE_AREA.width + 2 * MARGIN_MM) * PX_PER_MM);
    const image = keep(new vision.Mat(side, side, vision.CV_8UC1));
    const { data } = image;
    const unit = 255 / photo.maxCode;
    for (let row = 0; row < side; row++)
      for (let column = 0; column < side; column++) {
        const [x, y] = project(
          toPhoto,
          CODE_AREA.x - MARGIN_MM + (column + 0.5) / PX_PER_MM,
          CODE_AREA.y - MARGIN_MM + (row + 0.5) / PX_PER_MM,
        );
        data[row * side + column] = unit * greenAt(photo, x, y);
      }
    const detector = keep(new vision.QRCodeDetector());
    return readPlanCode(detector.detectAndDecode(image));
  });
