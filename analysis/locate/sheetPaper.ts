import { Matrix, solve } from 'ml-matrix';
import type { Area } from '../sheet/layout.ts';
import { CARD_PLACE, CLOTH_PLACE, FIELD, WHITE_AREAS } from '../sheet/layout.ts';
import { onSheet, type SheetView } from './sheetField.ts';
import { type ToneAxes, toneAxes } from './toneField.ts';

/** How bare paper looks all over the sheet: of light and both colour axes of a tone field, a cubic in the place. */
export type PaperLook = readonly [
  light: readonly number[],
  redGreen: readonly number[],
  blueGreen: readonly number[],
];

const inside = ({ x, y, width, height }: Area, px: number, py: number, inset: number): boolean =>
  px > x + inset && px < x + width - inset && py > y + inset && py < y + height - inset;

/** Terms of a cubic in both directions: slanted light, a near lamp, and one soft shadow. */
const TERMS = 10;
/** Weight of paper that must be seen, in pixels of the view. */
const LEAST_PAPER = 60;
/** Fewest pixels beside the places that must be in the photo. */
const LEAST_BESIDE = 100;
const ROUNDS = [0.3, 0.15, 0.08, 0.05, 0.05];

/** Pixels of the view that may be paper, as a row of terms and a tone each. */
interface Places {
  readonly count: number;
  /** TERMS to a place. */
  readonly terms: Float64Array;
  /** Three to a place. */
  readonly tones: Float64Array;
  /** 1 beside the places for card and cloth. */
  readonly beside: Uint8Array;
}

/**
 * What does the sheet's bare paper look like, everywhere, under whatever stands on it? Fitted to the whole field seen
 * from above, first beside the places, then wherever it looks like paper as well (Tukey's biweight). Only for telling
 * cloth and card from paper; nothing is measured by it.
 */
export const paperLook = (view: SheetView, luminance: readonly number[]): PaperLook | null => {
  const places = placesIn(view, toneAxes(view.photo, luminance));
  const fits = new Float64Array(3 * TERMS);
  for (let p = 0; p < 3; p++) {
    const values = besideOf(places, p);
    if (values.length < LEAST_BESIDE) return null;
    fits[p * TERMS] = values.sort()[values.length >> 1];
  }
  for (const width of ROUNDS) if (!refit(places, fits, width)) return null;
  const [light, redGreen, blueGreen] = [0, 1, 2].map((p) => [...fits.subarray(p * TERMS, (p + 1) * TERMS)]);
  return [light, redGreen, blueGreen];
};

const placesIn = (view: SheetView, axes: ToneAxes): Places => {
  const pixels = axes.widthPx * axes.heightPx;
  const terms = new Float64Array(TERMS * pixels);
  const tones = new Float64Array(3 * pixels);
  const beside = new Uint8Array(pixels);
  let count = 0;
  for (let row = 0, at = 0; row < axes.heightPx; row++) {
    const y = view.area.y + (row + 0.5) / view.pxPerMm;
    const v = (2 * y) / FIELD.height - 1;
    for (let column = 0; column < axes.widthPx; column++, at++) {
      const x = view.area.x + (column + 0.5) / view.pxPerMm;
      const isBeside = WHITE_AREAS.some((area) => inside(area, x, y, 1));
      if (!isBeside && !inside(CARD_PLACE, x, y, 1.5) && !inside(CLOTH_PLACE, x, y, 1.5)) continue;
      if (view.photo.clipped[at] && axes.light[at] < -2) continue;
      const u = (2 * x) / FIELD.width - 1;
      const to = TERMS * count;
      terms[to] = 1;
      terms[to + 1] = u;
      terms[to + 2] = v;
      terms[to + 3] = u * u;
      terms[to + 4] = u * v;
      terms[to + 5] = v * v;
      terms[to + 6] = u * u * u;
      terms[to + 7] = u * u * v;
      terms[to + 8] = u * v * v;
      terms[to + 9] = v * v * v;
      tones[3 * count] = axes.light[at];
      tones[3 * count + 1] = axes.redGreen[at];
      tones[3 * count + 2] = axes.blueGreen[at];
      if (isBeside) beside[count] = 1;
      count++;
    }
  }
  return { count, terms, tones, beside };
};

/** One plane of the tones beside the places. */
const besideOf = ({ count, tones, beside }: Places, plane: number): Float64Array => {
  const values = new Float64Array(count);
  let n = 0;
  for (let k = 0; k < count; k++) if (beside[k]) values[n++] = tones[3 * k + plane];
  return values.subarray(0, n);
};

/** Fits all three planes anew to what lies within `width` of them; false where too little does. */
const refit = ({ count, terms, tones }: Places, fits: Float64Array, width: number): boolean => {
  const normal = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS * 3);
  let total = 0;
  for (let k = 0; k < count; k++) {
    const at = TERMS * k;
    let light = tones[3 * k];
    let red = tones[3 * k + 1];
    let blue = tones[3 * k + 2];
    for (let i = 0; i < TERMS; i++) {
      const term = terms[at + i];
      light -= fits[i] * term;
      red -= fits[TERMS + i] * term;
      blue -= fits[2 * TERMS + i] * term;
    }
    const off = (light * light + red * red + (0.7 * blue) ** 2) / (width * width);
    if (!(off < 1)) continue;
    const w = (1 - off) * (1 - off);
    total += w;
    for (let i = 0; i < TERMS; i++) {
      const wt = w * terms[at + i];
      for (let j = 0; j <= i; j++) normal[i * TERMS + j] += wt * terms[at + j];
      right[3 * i] += wt * tones[3 * k];
      right[3 * i + 1] += wt * tones[3 * k + 1];
      right[3 * i + 2] += wt * tones[3 * k + 2];
    }
  }
  if (total < LEAST_PAPER) return false;
  const square = Matrix.zeros(TERMS, TERMS);
  for (let i = 0; i < TERMS; i++) {
    for (let j = 0; j <= i; j++) {
      square.set(i, j, normal[i * TERMS + j]);
      square.set(j, i, normal[i * TERMS + j]);
    }
    // Where little paper shows, the higher terms stay small.
    square.set(i, i, normal[i * TERMS + i] + (i === 0 ? 1e-9 : i < 6 ? 1e-4 : 3e-3) * total);
  }
  const solved = solve(square, Matrix.from1DArray(TERMS, 3, right));
  for (let i = 0; i < TERMS; i++) for (let p = 0; p < 3; p++) fits[p * TERMS + i] = solved.get(i, p);
  return true;
};

/** The view on axes where bare paper is 0, 0, 0: light that falls off over the sheet is out of it. */
export const againstPaper = (view: SheetView, luminance: readonly number[], paper: PaperLook): ToneAxes => {
  const field = toneAxes(view.photo, luminance);
  const { widthPx, heightPx } = field;
  [field.light, field.redGreen, field.blueGreen].forEach((plane, p) => {
    const k = paper[p];
    for (let row = 0, at = 0; row < heightPx; row++) {
      const [, y] = onSheet(view, [0, row + 0.5]);
      const v = (2 * y) / FIELD.height - 1;
      const constant = k[0] + k[2] * v + k[5] * v * v + k[9] * v ** 3;
      const linear = k[1] + k[4] * v + k[8] * v * v;
      const square = k[3] + k[7] * v;
      for (let column = 0; column < widthPx; column++, at++) {
        const u = (2 * (view.area.x + (column + 0.5) / view.pxPerMm)) / FIELD.width - 1;
        plane[at] -= constant + u * (linear + u * (square + u * k[6]));
      }
    }
  });
  return field;
};
