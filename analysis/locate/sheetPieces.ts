import type { Quad } from './marks.ts';
import { fitQuad } from './quadFit.ts';
import type { ToneAxes } from './toneField.ts';

/** Something that lies on the paper: its pixels in the view, and the four-sided outline where it has one. */
export interface Piece {
  readonly pixels: Int32Array;
  readonly quad: Quad | null;
}

/** What differs from paper by less than this many times its noise is paper. */
const NOISES = 4.5;
const LEAST_NOISE = [0.009, 0.008, 0.013] as const;

/** How far each pixel is from bare paper, in units of the paper's noise; smoothed over 3 × 3 pixels. */
export const strangeness = (field: ToneAxes): Float32Array => {
  const planes = [field.light, field.redGreen, field.blueGreen].map((plane) =>
    smoothed(plane, field.widthPx, field.heightPx),
  );
  const noise = planes.map((plane, p) => Math.max(LEAST_NOISE[p], noiseOfPaper(plane)));
  const [light, red, blue] = planes;
  const [nl, nr, nb] = noise.map((n) => 1 / n);
  const far = new Float32Array(light.length);
  for (let at = 0; at < far.length; at++)
    far[at] = Math.sqrt((light[at] * nl) ** 2 + (red[at] * nr) ** 2 + (blue[at] * nb) ** 2);
  return far;
};

/** Every so many pixels are looked at for the noise. */
const NOISE_STRIDE = 5;

/** Noise of the middle half of what lies near 0, which is paper. */
const noiseOfPaper = (plane: Float32Array): number => {
  const near = new Float32Array(Math.ceil(plane.length / NOISE_STRIDE));
  let count = 0;
  for (let at = 0; at < plane.length; at += NOISE_STRIDE) {
    const value = Math.abs(plane[at]);
    if (value < 0.06) near[count++] = value;
  }
  const sorted = near.subarray(0, count).sort();
  return count === 0 ? 0 : sorted[count >> 1] / 0.6745;
};

/** Means over 3 × 3 pixels; the rim repeats. */
const smoothed = (plane: Float32Array, widthPx: number, heightPx: number): Float32Array => {
  const along = new Float32Array(plane.length);
  for (let y = 0, at = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++, at++)
      along[at] = plane[x > 0 ? at - 1 : at] + plane[at] + plane[x < widthPx - 1 ? at + 1 : at];
  const out = new Float32Array(plane.length);
  for (let y = 0, at = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++, at++)
      out[at] =
        (along[y > 0 ? at - widthPx : at] + along[at] + along[y < heightPx - 1 ? at + widthPx : at]) / 9;
  return out;
};

/** What lies on the paper, largest first; thin lines are not kept. */
export const piecesOn = (
  field: ToneAxes,
  far: Float32Array,
  leastPx: number,
  times = NOISES,
  thinPx = 2,
): Piece[] => {
  const { widthPx, heightPx } = field;
  const waiting = new Int32Array(far.length);
  const solid = solidOn(far, waiting, widthPx, heightPx, times, thinPx);
  const stamp = new Int32Array(far.length).fill(-1);
  const found: Piece[] = [];
  for (let start = 0; start < solid.length; start++) {
    if (solid[start] === 0) continue;
    const count = takeConnected(solid, start, waiting, widthPx);
    if (count < leastPx) continue;
    const pixels = waiting.slice(0, count);
    found.push({ pixels, quad: fitQuad(pixels, widthPx, stamp, found.length)?.quad ?? null });
  }
  return found.sort((a, b) => b.pixels.length - a.pixels.length);
};

/** How many pieces there are at this bar, without their outlines. */
export const countPieces = (
  far: Float32Array,
  widthPx: number,
  heightPx: number,
  leastPx: number,
  times: number,
  thinPx: number,
): number => {
  const waiting = new Int32Array(far.length);
  const solid = solidOn(far, waiting, widthPx, heightPx, times, thinPx);
  let found = 0;
  for (let start = 0; start < solid.length; start++)
    if (solid[start] !== 0 && takeConnected(solid, start, waiting, widthPx) >= leastPx) found++;
  return found;
};

/** Where something stands out by more than `times` noises or is enclosed by that, thin lines left out. */
const solidOn = (
  far: Float32Array,
  waiting: Int32Array,
  widthPx: number,
  heightPx: number,
  times: number,
  thinPx: number,
): Uint8Array => {
  const mask = new Uint8Array(far.length);
  for (let at = 0; at < far.length; at++) if (far[at] > times) mask[at] = 1;
  // Bare cotton can be as white as paper: then only its edge and shadow stand out, and what they enclose is cloth.
  let solid = shrunk(filled(spread(mask, widthPx, heightPx), waiting, widthPx, heightPx), widthPx, heightPx);
  for (let round = 0; round < thinPx; round++) solid = shrunk(solid, widthPx, heightPx);
  for (let round = 0; round < thinPx; round++) solid = spread(solid, widthPx, heightPx);
  return solid;
};

/** Clears everything set that is joined to `start` by its sides, lists it in `pixels`, and says how many there are. */
const takeConnected = (mask: Uint8Array, start: number, pixels: Int32Array, widthPx: number): number => {
  const end = mask.length;
  let count = 0;
  mask[start] = 0;
  pixels[count++] = start;
  for (let done = 0; done < count; done++) {
    const at = pixels[done];
    const x = at % widthPx;
    if (x > 0 && mask[at - 1]) {
      mask[at - 1] = 0;
      pixels[count++] = at - 1;
    }
    if (x < widthPx - 1 && mask[at + 1]) {
      mask[at + 1] = 0;
      pixels[count++] = at + 1;
    }
    if (at >= widthPx && mask[at - widthPx]) {
      mask[at - widthPx] = 0;
      pixels[count++] = at - widthPx;
    }
    if (at + widthPx < end && mask[at + widthPx]) {
      mask[at + widthPx] = 0;
      pixels[count++] = at + widthPx;
    }
  }
  return count;
};

/** The mask with everything that it encloses: all but what is joined to the rim. */
const filled = (mask: Uint8Array, waiting: Int32Array, widthPx: number, heightPx: number): Uint8Array => {
  const open = new Uint8Array(mask.length);
  for (let at = 0; at < mask.length; at++) open[at] = 1 - mask[at];
  const lastRow = (heightPx - 1) * widthPx;
  for (let x = 0; x < widthPx; x++) {
    if (open[x]) takeConnected(open, x, waiting, widthPx);
    if (open[lastRow + x]) takeConnected(open, lastRow + x, waiting, widthPx);
  }
  for (let y = 0; y < heightPx; y++) {
    if (open[y * widthPx]) takeConnected(open, y * widthPx, waiting, widthPx);
    if (open[y * widthPx + widthPx - 1]) takeConnected(open, y * widthPx + widthPx - 1, waiting, widthPx);
  }
  // What is still open is enclosed.
  for (let at = 0; at < mask.length; at++) open[at] |= mask[at];
  return open;
};

/** Keeps a pixel where all four neighbours are set; none on the rim. */
const shrunk = (mask: Uint8Array, widthPx: number, heightPx: number): Uint8Array => {
  const out = new Uint8Array(mask.length);
  for (let y = 1; y < heightPx - 1; y++)
    for (let at = y * widthPx + 1, end = (y + 1) * widthPx - 1; at < end; at++)
      out[at] = mask[at] & mask[at - 1] & mask[at + 1] & mask[at - widthPx] & mask[at + widthPx];
  return out;
};

/** Sets a pixel where a neighbour is set; the rim stays. */
const spread = (mask: Uint8Array, widthPx: number, heightPx: number): Uint8Array => {
  const out = mask.slice();
  for (let y = 1; y < heightPx - 1; y++)
    for (let at = y * widthPx + 1, end = (y + 1) * widthPx - 1; at < end; at++)
      out[at] |= mask[at - 1] | mask[at + 1] | mask[at - widthPx] | mask[at + widthPx];
  return out;
};
