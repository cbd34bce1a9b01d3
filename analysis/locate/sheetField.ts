import type { Photo } from '../photo/photo.ts';
import type { Area } from '../sheet/layout.ts';
import { type Homography, project } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import type { SmallPhoto } from './toneField.ts';

/** Part of the sheet seen from straight above. */
export interface SheetView {
  readonly area: Area;
  readonly pxPerMm: number;
  readonly photo: SmallPhoto;
}

/** How the sheet looks there in linear light; what lies outside the photo is black and marked as clipped. */
export const viewOf = (photo: Photo, toPhoto: Homography, area: Area, pxPerMm: number): SheetView => {
  const widthPx = Math.round(area.width * pxPerMm);
  const heightPx = Math.round(area.height * pxPerMm);
  const rgb = new Float32Array(3 * widthPx * heightPx);
  const clipped = new Uint8Array(widthPx * heightPx);
  const [red, green, blue] = photo.profile.linear;
  const { codes } = photo;
  const [a, b, c, d, e, f, g, h, i] = toPhoto;
  const samples = samplesPerSide(toPhoto, area, pxPerMm);
  const { widthPx: photoWidth, heightPx: photoHeight } = photo;
  const mm = 1 / pxPerMm;
  const [first, step] = [0.5 / samples - 0.5, 1 / samples];
  for (let row = 0, to = 0; row < heightPx; row++) {
    const y = area.y + (row + 0.5) * mm;
    for (let column = 0; column < widthPx; column++, to++) {
      const x = area.x + (column + 0.5) * mm;
      const w = 1 / (g * x + h * y + i);
      const atX = (a * x + b * y + c) * w;
      const atY = (d * x + e * y + f) * w;
      // Within one pixel of the view the projection is as good as straight.
      const acrossX = (a - g * atX) * w * mm;
      const acrossY = (d - g * atY) * w * mm;
      const downX = (b - h * atX) * w * mm;
      const downY = (e - h * atY) * w * mm;
      let lightRed = 0;
      let lightGreen = 0;
      let lightBlue = 0;
      let n = 0;
      for (let v = 0; v < samples; v++) {
        const down = first + v * step;
        for (let u = 0; u < samples; u++) {
          const across = first + u * step;
          const px = atX + across * acrossX + down * downX;
          const py = atY + across * acrossY + down * downY;
          if (!(px >= 0 && py >= 0 && px < photoWidth && py < photoHeight)) continue;
          const at = 3 * ((py | 0) * photoWidth + (px | 0));
          lightRed += red[codes[at]];
          lightGreen += green[codes[at + 1]];
          lightBlue += blue[codes[at + 2]];
          n++;
        }
      }
      if (n > 0) {
        rgb[3 * to] = lightRed / n;
        rgb[3 * to + 1] = lightGreen / n;
        rgb[3 * to + 2] = lightBlue / n;
      }
      if (n < samples * samples) clipped[to] = 1;
    }
  }
  return { area, pxPerMm, photo: { widthPx, heightPx, rgb, clipped } };
};

const MOST_SAMPLES = 3;

/** As many samples as the photo has pixels there, up to three to a side. */
const samplesPerSide = (toPhoto: Homography, area: Area, pxPerMm: number): number => {
  const [x, y] = [area.x + area.width / 2, area.y + area.height / 2];
  const [x0, y0] = project(toPhoto, x, y);
  const [x1, y1] = project(toPhoto, x + 1, y);
  const [x2, y2] = project(toPhoto, x, y + 1);
  const density = Math.sqrt(Math.abs((x1 - x0) * (y2 - y0) - (y1 - y0) * (x2 - x0)));
  return Math.min(MOST_SAMPLES, Math.max(1, Math.round(density / pxPerMm)));
};

/** A place of the view on the sheet, millimetres. */
export const onSheet = ({ area, pxPerMm }: SheetView, [x, y]: Point): Point => [
  area.x + x / pxPerMm,
  area.y + y / pxPerMm,
];

/** A quad of the view in the photo. */
export const inPhoto = (view: SheetView, toPhoto: Homography, quad: Quad): Quad =>
  quad.map((point) => {
    const [x, y] = onSheet(view, point);
    return project(toPhoto, x, y);
  }) as unknown as Quad;
