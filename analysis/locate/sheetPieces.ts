import type { Quad } from './marks.ts';
import { fitQuad } from './quadFit.ts';
import type { ToneField } from './toneField.ts';

/** Something that lies on the paper: its pixels in the view, and the four-sided outline where it has one. */
export interface Piece {
  readonly pixels: Int32Array;
  readonly quad: Quad | null;
}

/** What differs from paper by less than this many times its noise is paper. */
const NOISES = 4.5;
const LEAST_NOISE = [0.009, 0.008, 0.013] as const;

/** How far each pixel is from bare paper, in units of the paper's noise; smoothed over 3 × 3 pixels. */
export const strangeness = (field: ToneField): Float32Array => {
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
  field: ToneField,
  far: Float32Array,
  leastPx: number,
  times = NOISES,
  thinPx = 2,
): Piece[] => {
  const { widthPx, heightPx } = field;
  const mask = new Uint8Array(far.length);
  for (let at = 0; at < far.length; at++) if (far[at] > times) mask[at] = 1;
  // Bare cotton can be as white as paper: then only its edge and shadow stand out, and what they enclose is cloth.
  const whole = shrunk(filled(spread(mask, widthPx, heightPx, 1), widthPx, heightPx), widthPx, heightPx);
  let solid = whole;
  for (let round = 0; round < thinPx; round++) solid = shrunk(solid, widthPx, heightPx);
  solid = spread(solid, widthPx, heightPx, thinPx);
  const stamp = new Int32Array(solid.length).fill(-1);
  const found: Piece[] = [];
  const left = solid.slice();
  const pixels = new Int32Array(left.length);
  for (let start = 0; start < left.length; start++) {
    if (left[start] === 0) continue;
    let count = 0;
    const enter = (at: number): void => {
      left[at] = 0;
      pixels[count++] = at;
    };
    enter(start);
    for (let done = 0; done < count; done++) {
      const at = pixels[done];
      const x = at % widthPx;
      if (x > 0 && left[at - 1]) enter(at - 1);
      if (x < widthPx - 1 && left[at + 1]) enter(at + 1);
      if (at >= widthPx && left[at - widthPx]) enter(at - widthPx);
      if (at + widthPx < left.length && left[at + widthPx]) enter(at + widthPx);
    }
    if (count < leastPx) continue;
    const piece = pixels.slice(0, count);
    found.push({
      pixels: piece,
      quad: fitQuad(piece, widthPx, stamp, found.length)?.quad ?? null,
    });
  }
  return found.sort((a, b) => b.pixels.length - a.pixels.length);
};

/** The mask with everything that it encloses. */
const filled = (mask: Uint8Array, widthPx: number, heightPx: number): Uint8Array => {
  const out = new Uint8Array(mask.length).fill(1);
  const waiting: number[] = [];
  const enter = (at: number): void => {
    if (mask[at] || out[at] === 0) return;
    out[at] = 0;
    waiting.push(at);
  };
  for (let x = 0; x < widthPx; x++) {
    enter(x);
    enter((heightPx - 1) * widthPx + x);
  }
  for (let y = 0; y < heightPx; y++) {
    enter(y * widthPx);
    enter(y * widthPx + widthPx - 1);
  }
  while (waiting.length > 0) {
    const at = waiting.pop() as number;
    const x = at % widthPx;
    if (x > 0) enter(at - 1);
    if (x < widthPx - 1) enter(at + 1);
    if (at >= widthPx) enter(at - widthPx);
    if (at + widthPx < mask.length) enter(at + widthPx);
  }
  return out;
};

/** Keeps a pixel where all four neighbours are set. */
const shrunk = (mask: Uint8Array, widthPx: number, heightPx: number): Uint8Array => {
  const out = new Uint8Array(mask.length);
  for (let y = 1; y < heightPx - 1; y++)
    for (let x = 1; x < widthPx - 1; x++) {
      const at = y * widthPx + x;
      if (mask[at] && mask[at - 1] && mask[at + 1] && mask[at - widthPx] && mask[at + widthPx]) out[at] = 1;
    }
  return out;
};

const spread = (mask: Uint8Array, widthPx: number, heightPx: number, rounds: number): Uint8Array => {
  let from = mask;
  for (let round = 0; round < rounds; round++) {
    const out = from.slice();
    for (let y = 1; y < heightPx - 1; y++)
      for (let x = 1; x < widthPx - 1; x++) {
        const at = y * widthPx + x;
        if (from[at - 1] || from[at + 1] || from[at - widthPx] || from[at + widthPx]) out[at] = 1;
      }
    from = out;
  }
  return from;
};
