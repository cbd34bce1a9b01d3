import type { Point, Quad } from '../../../analysis/locate/marks.ts';
import { containsPoint } from '../../../analysis/locate/quadGeometry.ts';
import { type SmallPhoto, type ToneField, toneField } from '../../../analysis/locate/toneField.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';

export type Colour = readonly [number, number, number];

export interface Patch {
  readonly quad: Quad;
  readonly colour: Colour;
}

export const grey = (level: number): Colour => [level, level, level];

/** A rectangle of this size about a middle, turned clockwise on screen. */
export function turnedBox([x, y]: Point, width: number, height: number, degrees: number): Quad {
  const c = Math.cos((degrees * Math.PI) / 180);
  const s = Math.sin((degrees * Math.PI) / 180);
  const at = (u: number, v: number): Point => [x + u * c - v * s, y + u * s + v * c];
  const [w, h] = [width / 2, height / 2];
  return [at(-w, -h), at(w, -h), at(w, h), at(-w, h)];
}

/** The places of `count` boxes side by side along a line through a middle, `pitch` apart, turned together. */
export function rowOfBoxes(
  [x, y]: Point,
  count: number,
  pitch: number,
  width: number,
  height: number,
  degrees: number,
): Quad[] {
  const angle = (degrees * Math.PI) / 180;
  return Array.from({ length: count }, (_, i) => {
    const along = (i - (count - 1) / 2) * pitch;
    return turnedBox([x + along * Math.cos(angle), y + along * Math.sin(angle)], width, height, degrees);
  });
}

/** Patches on a table, later ones on top, edges smoothed over a pixel, with noise of this standard deviation. */
export function painted(
  widthPx: number,
  heightPx: number,
  table: Colour,
  patches: readonly Patch[],
  noise = 0.004,
  lit: (x: number, y: number) => number = () => 1,
): SmallPhoto {
  const rgb = new Float32Array(3 * widthPx * heightPx);
  const bounds = patches.map(({ quad }) => ({
    left: Math.min(...quad.map((p) => p[0])) - 1,
    right: Math.max(...quad.map((p) => p[0])) + 1,
    top: Math.min(...quad.map((p) => p[1])) - 1,
    bottom: Math.max(...quad.map((p) => p[1])) + 1,
  }));
  const random = normalNumbers(7);
  const corners = [0.125, 0.375, 0.625, 0.875];
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const here = patches.filter((_, k) => {
        const b = bounds[k];
        return x + 1 >= b.left && x <= b.right && y + 1 >= b.top && y <= b.bottom;
      });
      const colour = [0, 0, 0];
      for (const dx of corners)
        for (const dy of corners) {
          const top = here.findLast((patch) => containsPoint(patch.quad, [x + dx, y + dy]))?.colour ?? table;
          for (let c = 0; c < 3; c++) colour[c] += top[c] / 16;
        }
      const at = 3 * (y * widthPx + x);
      for (let c = 0; c < 3; c++) rgb[at + c] = Math.max(0, colour[c] * lit(x, y) * (1 + noise * random()));
    }
  }
  return { widthPx, heightPx, rgb, clipped: new Uint8Array(widthPx * heightPx) };
}

/** Weights of linear sRGB in luminance (IEC 61966-2-1). */
export const luminance = [0.2126, 0.7152, 0.0722];

export function fieldOf(photo: SmallPhoto): ToneField {
  return toneField(photo, luminance);
}

/** Largest distance between corners of two quads, whichever corner comes first, px. */
export function cornersApart(a: Quad, b: Quad): number {
  const apart = [0, 1, 2, 3].map((turn) =>
    Math.max(...a.map(([x, y], i) => Math.hypot(x - b[(i + turn) % 4][0], y - b[(i + turn) % 4][1]))),
  );
  return Math.min(...apart);
}
