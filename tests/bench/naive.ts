import { lightnessFromY } from '../../analysis/colour/lightness.ts';
import type { Photo, Rgb } from '../../analysis/photo/photo.ts';

/** What people do without a tool: decode as sRGB and look at the middle of a patch. */

type Quad = readonly (readonly [number, number])[];

const decoded = (code: number): number => {
  const v = code / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};

/** Mean linear sRGB of the middle third of a quad (an eyedropper set to a large average). */
export const middleOf = (photo: Photo, quad: Quad): Rgb => {
  const cx = quad.reduce((s, p) => s + p[0], 0) / 4;
  const cy = quad.reduce((s, p) => s + p[1], 0) / 4;
  const side = Math.min(
    Math.hypot(quad[0][0] - quad[1][0], quad[0][1] - quad[1][1]),
    Math.hypot(quad[1][0] - quad[2][0], quad[1][1] - quad[2][1]),
  );
  const half = Math.max(1, Math.floor(side / 6));
  let [r, g, b, n] = [0, 0, 0, 0];
  for (let y = Math.round(cy) - half; y <= Math.round(cy) + half; y++)
    for (let x = Math.round(cx) - half; x <= Math.round(cx) + half; x++) {
      const at = 3 * (y * photo.widthPx + x);
      r += decoded(photo.codes[at]);
      g += decoded(photo.codes[at + 1]);
      b += decoded(photo.codes[at + 2]);
      n++;
    }
  return [r / n, g / n, b / n];
};

const luminance = ([r, g, b]: Rgb): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;
const L = (Y: number): number => lightnessFromY(Math.min(1.5, Math.max(0, Y)));

/** L* straight from the file's code values. */
export const eyedropperL = (step: Rgb): number => L(luminance(step));

/** Each channel scaled so that the grey patch gets its known value. */
export const greyScaledL = (step: Rgb, grey: Rgb, greyY: number): number =>
  L(luminance([(step[0] / grey[0]) * greyY, (step[1] / grey[1]) * greyY, (step[2] / grey[2]) * greyY]));

/** A straight line per channel through the card's patches by least squares: scaling with several patches. */
export const lineScaledL = (
  step: Rgb,
  patches: readonly { readonly rgb: Rgb; readonly Y: number }[],
): number => {
  const channels = ([0, 1, 2] as const).map((c) => {
    const n = patches.length;
    const mx = patches.reduce((s, p) => s + p.rgb[c], 0) / n;
    const my = patches.reduce((s, p) => s + p.Y, 0) / n;
    const sxy = patches.reduce((s, p) => s + (p.rgb[c] - mx) * (p.Y - my), 0);
    const sxx = patches.reduce((s, p) => s + (p.rgb[c] - mx) ** 2, 0);
    return my + (sxy / sxx) * (step[c] - mx);
  });
  return L(luminance([channels[0], channels[1], channels[2]]));
};
