import type { Marks, Quad } from '../../../analysis/locate/marks.ts';
import type { Photo, Rgb } from '../../../analysis/photo/photo.ts';
import { assumedSrgb, srgbEncoded } from '../../../analysis/photo/srgb.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';
import { box } from '../tiles/paintedPhoto.ts';

/** Light on the table at a pixel, per channel; 1 where the table is lit evenly. */
export type Lit = (x: number, y: number) => Rgb;

const WIDTH = 1600;
const HEIGHT = 1200;
/** Linear light of the table, the card's patches and the steps, from left to right. */
const TABLE = 0.45;
const PATCHES = [0.75, 0.17, 0.04];
const STEPS = [0.6, 0.4, 0.25, 0.12];
/** Cast of the dye: how much of red, green and blue the deepest step keeps against a neutral one. */
const DYE: Rgb = [0.6, 1, 1.2];

const cardBox = (i: number): Quad => box(300 + 180 * i, 200, 460 + 180 * i, 360);
const stepBox = (i: number): Quad => box(300 + 200 * i, 600, 500 + 200 * i, 900);

export const marks: Marks = {
  card: ['white', 'grey', 'black'].map((name, i) => ({
    name,
    quad: cardBox(i),
    origin: 'hand',
    confidence: 1,
  })),
  steps: [0, 10, 20, 40].map((seconds, i) => ({ seconds, quad: stepBox(i), origin: 'hand', confidence: 1 })),
};

const colourAt = (x: number, y: number): Rgb => {
  const inside = ([[left, top], , [right, bottom]]: Quad) => x >= left && x < right && y >= top && y < bottom;
  const patch = PATCHES.findIndex((_, i) => inside(cardBox(i)));
  if (patch >= 0) return [PATCHES[patch], PATCHES[patch], PATCHES[patch]];
  const step = STEPS.findIndex((_, i) => inside(stepBox(i)));
  if (step < 0) return [TABLE, TABLE, TABLE];
  const depth = step / (STEPS.length - 1);
  const kept = (c: 0 | 1 | 2) => STEPS[step] * DYE[c] ** depth;
  return [kept(0), kept(1), kept(2)];
};

export interface Painting {
  readonly lit?: Lit;
  /** Light added by a mirrored lamp. */
  readonly glare?: (x: number, y: number) => number;
  /** Blur by a box of this many pixels, across only or both ways. */
  readonly box?: { readonly across: number; readonly down: number };
}

/**
 * A card of three patches and a strip of four steps on a plain table, 1600 × 1200 px, with half a per cent of noise.
 * Everything is countable: patches of 160 × 160 px from (300, 200) on, steps of 200 × 300 px from (300, 600) on.
 */
export const paintedTable = ({ lit, glare, box: blur }: Painting = {}): Photo => {
  const light = BARE.slice();
  for (let y = 0; lit && y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const shone = lit(x, y);
      for (let c = 0; c < 3; c++) light[3 * (y * WIDTH + x) + c] *= shone[c];
    }
  for (let y = 0; glare && y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const added = glare(x, y);
      for (let c = 0; c < 3; c++) light[3 * (y * WIDTH + x) + c] += added;
    }
  if (blur) {
    boxBlur(light, blur.across, 3, WIDTH, HEIGHT, 3 * WIDTH);
    boxBlur(light, blur.down, 3 * WIDTH, HEIGHT, WIDTH, 3);
  }
  const codes = new Uint8Array(light.length);
  for (let i = 0; i < codes.length; i++)
    codes[i] = ENCODED[Math.round(4096 * Math.min(1, light[i] * NOISE[i % NOISE.length]))];
  return {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    codes,
    maxCode: 255,
    profile: assumedSrgb(255, 255),
    format: 'png',
  };
};

/** The table under even light, linear. */
const BARE = (() => {
  const light = new Float32Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) light.set(colourAt(x, y), 3 * (y * WIDTH + x));
  return light;
})();
/** A prime number of factors, so that rows do not repeat each other. */
const NOISE = (() => {
  const next = normalNumbers(5);
  return Float32Array.from({ length: 65537 }, () => 1 + 0.005 * next());
})();
const ENCODED = Uint8Array.from({ length: 4097 }, (_, i) => Math.round(255 * srgbEncoded(i / 4096)));

/** Running mean of `px` pixels along one axis, three times over: nearly a Gaussian of variance (px² − 1) / 4. */
const boxBlur = (
  light: Float32Array,
  px: number,
  step: number,
  length: number,
  lines: number,
  lineStep: number,
): void => {
  if (px < 2) return;
  const half = (px - 1) / 2;
  const line = new Float64Array(length);
  for (let pass = 0; pass < 3; pass++)
    for (let l = 0; l < lines; l++)
      for (let c = 0; c < 3; c++) {
        const start = l * lineStep + c;
        const value = (i: number) => light[start + step * Math.min(length - 1, Math.max(0, i))];
        let sum = 0;
        for (let k = -half; k <= half; k++) sum += value(k);
        for (let i = 0; i < length; i++) {
          line[i] = sum / px;
          sum += value(i + half + 1) - value(i - half);
        }
        for (let i = 0; i < length; i++) light[start + step * i] = line[i];
      }
};
