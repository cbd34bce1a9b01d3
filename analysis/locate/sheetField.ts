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
  const step = 1 / (pxPerMm * samples);
  for (let row = 0; row < heightPx; row++)
    for (let column = 0; column < widthPx; column++) {
      let [r, gr, bl, n, out] = [0, 0, 0, 0, 0];
      for (let v = 0; v < samples; v++) {
        const y = area.y + row / pxPerMm + (v + 0.5) * step;
        for (let u = 0; u < samples; u++) {
          const x = area.x + column / pxPerMm + (u + 0.5) * step;
          const w = 1 / (g * x + h * y + i);
          const px = Math.floor((a * x + b * y + c) * w);
          const py = Math.floor((d * x + e * y + f) * w);
          if (px < 0 || py < 0 || px >= photo.widthPx || py >= photo.heightPx) {
            out++;
            continue;
          }
          const at = py * photo.widthPx + px;
          r += red[codes[3 * at]];
          gr += green[codes[3 * at + 1]];
          bl += blue[codes[3 * at + 2]];
          n++;
        }
      }
      const to = row * widthPx + column;
      if (n > 0) {
        rgb[3 * to] = r / n;
        rgb[3 * to + 1] = gr / n;
        rgb[3 * to + 2] = bl / n;
      }
      clipped[to] = out > 0 ? 1 : 0;
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
