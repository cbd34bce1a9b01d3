import { type Homography, project } from './homography.ts';
import type { Point } from './marks.ts';
import type { ToneAxes } from './toneField.ts';

/** What an area looks like: medians on the field's three axes, and how much its light varies (robust SD, ln). */
export interface Tone {
  readonly light: number;
  readonly redGreen: number;
  readonly blueGreen: number;
  readonly spread: number;
}

/** The two colour axes of a tone. */
export interface Tint {
  readonly redGreen: number;
  readonly blueGreen: number;
}

/** ln light less its colour: falls as dye builds up, for a yellow, which hardly darkens, as for a black. */
export function paleness(light: number, redGreen: number, blueGreen: number, neutral: Tint): number {
  return light - 0.4 * Math.hypot(redGreen - neutral.redGreen, blueGreen - neutral.blueGreen);
}

const across = 7;

/** Reads the part u0..u1 × v0..v1 of a projected square; undefined where less than half of it is in the photo. */
export function sampleTone(
  field: ToneAxes,
  square: Homography,
  u0: number,
  u1: number,
  v0: number,
  v1: number,
): Tone | undefined {
  const light: number[] = [];
  const redGreen: number[] = [];
  const blueGreen: number[] = [];
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < across; j++) {
      const u = u0 + ((i + 0.5) / across) * (u1 - u0);
      const v = v0 + ((j + 0.5) / across) * (v1 - v0);
      const at = pixelAt(field, project(square, u, v));
      if (at < 0) continue;
      light.push(field.light[at]);
      redGreen.push(field.redGreen[at]);
      blueGreen.push(field.blueGreen[at]);
    }
  }
  if (light.length < (across * across) / 2) return undefined;
  const middle = medianOf(light);
  return {
    light: middle,
    redGreen: medianOf(redGreen),
    blueGreen: medianOf(blueGreen),
    spread: 1.4826 * medianOf(light.map((value) => Math.abs(value - middle))),
  };
}

/** Number of the pixel under a point, -1 outside the photo. */
export function pixelAt(field: ToneAxes, [x, y]: readonly [number, number]): number {
  const column = Math.floor(x);
  const row = Math.floor(y);
  if (!(column >= 0 && row >= 0 && column < field.widthPx && row < field.heightPx)) return -1;
  return row * field.widthPx + column;
}

/** Median; the lower middle of an even count. NaN for none. */
export function medianOf(values: readonly number[]): number {
  if (values.length === 0) return Number.NaN;
  return Float64Array.from(values).sort()[(values.length - 1) >> 1];
}

/**
 * How foreign is what lies midway between two facing sides to the areas on either hand? Median distance, ln, of its
 * tone from every mixture of the two: 0 where one passes into the other, large where the table shows between them.
 */
export function foreignBetween(
  field: ToneAxes,
  sideA: readonly [Point, Point],
  sideB: readonly [Point, Point],
  toneA: Tone,
  toneB: Tone,
): number {
  const far: number[] = [];
  for (const s of [0.2, 0.35, 0.5, 0.65, 0.8]) {
    const at = pixelAt(field, [
      (sideA[0][0] * (1 - s) + sideA[1][0] * s + sideB[0][0] * (1 - s) + sideB[1][0] * s) / 2,
      (sideA[0][1] * (1 - s) + sideA[1][1] * s + sideB[0][1] * (1 - s) + sideB[1][1] * s) / 2,
    ]);
    if (at < 0) continue;
    const tone = [field.light[at], 0.5 * field.redGreen[at], 0.35 * field.blueGreen[at]];
    far.push(fromMixture(tone, weighted(toneA), weighted(toneB)));
  }
  return far.length === 0 ? 0 : medianOf(far);
}

function weighted(tone: Tone): number[] {
  return [tone.light, 0.5 * tone.redGreen, 0.35 * tone.blueGreen];
}

/** Distance of a tone from the nearest mixture of two others. */
function fromMixture(p: readonly number[], a: readonly number[], b: readonly number[]): number {
  const length = a.reduce((s, v, i) => s + (b[i] - v) ** 2, 0);
  const along = a.reduce((s, v, i) => s + (p[i] - v) * (b[i] - v), 0) / Math.max(length, 1e-9);
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(...a.map((v, i) => p[i] - v - t * (b[i] - v)));
}
