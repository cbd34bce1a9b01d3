import { Matrix, solve } from 'ml-matrix';
import type { Area } from '../sheet/layout.ts';
import { CARD_PLACE, CLOTH_PLACE, FIELD, WHITE_AREAS } from '../sheet/layout.ts';
import { onSheet, type SheetView } from './sheetField.ts';
import { type ToneField, toneField } from './toneField.ts';

/** How bare paper looks all over the sheet: of light and both colour axes of a tone field, a cubic in the place. */
export type PaperLook = readonly [
  light: readonly number[],
  redGreen: readonly number[],
  blueGreen: readonly number[],
];

const inside = ({ x, y, width, height }: Area, px: number, py: number, inset: number): boolean =>
  px > x + inset && px < x + width - inset && py > y + inset && py < y + height - inset;

/** Cubic in both directions: slanted light, a near lamp, and one soft shadow. */
const terms = (x: number, y: number): number[] => {
  const u = (2 * x) / FIELD.width - 1;
  const v = (2 * y) / FIELD.height - 1;
  return [1, u, v, u * u, u * v, v * v, u * u * u, u * u * v, u * v * v, v * v * v];
};

/** Weight of paper that must be seen, in pixels of the view. */
const LEAST_PAPER = 60;
const ROUNDS = [0.3, 0.15, 0.08, 0.05, 0.05];

/**
 * What does the sheet's bare paper look like, everywhere, under whatever stands on it? Fitted to the whole field seen
 * from above, first beside the places, then wherever it looks like paper as well (Tukey's biweight). Only for telling
 * cloth and card from paper; nothing is measured by it.
 */
export const paperLook = (view: SheetView, luminance: readonly number[]): PaperLook | null => {
  const field = toneField(view.photo, luminance);
  const rows: { terms: number[]; tone: readonly number[]; beside: boolean }[] = [];
  for (let row = 0; row < field.heightPx; row++)
    for (let column = 0; column < field.widthPx; column++) {
      const at = row * field.widthPx + column;
      const [x, y] = onSheet(view, [column + 0.5, row + 0.5]);
      const beside = WHITE_AREAS.some((area) => inside(area, x, y, 1));
      const within = [CARD_PLACE, CLOTH_PLACE].some((area) => inside(area, x, y, 1.5));
      if (!beside && !within) continue;
      if (view.photo.clipped[at] && field.light[at] < -2) continue;
      rows.push({
        terms: terms(x, y),
        tone: [field.light[at], field.redGreen[at], field.blueGreen[at]],
        beside,
      });
    }
  if (rows.filter((r) => r.beside).length < 100) return null;
  let fits = median(rows.filter((r) => r.beside).map((r) => r.tone));
  for (const width of ROUNDS) {
    const weights = rows.map((r) => {
      const off = Math.hypot(...[1, 1, 0.7].map((w, p) => w * (r.tone[p] - dot(fits[p], r.terms))));
      return off >= width ? 0 : (1 - (off / width) ** 2) ** 2;
    });
    const next = leastSquares(rows, weights);
    if (next === null) return null;
    fits = next;
  }
  return [fits[0], fits[1], fits[2]];
};

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((s, v, i) => s + v * b[i], 0);

const median = (tones: readonly (readonly number[])[]): number[][] =>
  [0, 1, 2].map((p) => {
    const sorted = tones.map((tone) => tone[p]).sort((a, b) => a - b);
    return [sorted[sorted.length >> 1], 0, 0, 0, 0, 0, 0, 0, 0, 0];
  });

/** All three planes at once: they share the weights. */
const leastSquares = (
  rows: readonly { readonly terms: readonly number[]; readonly tone: readonly number[] }[],
  weights: readonly number[],
): number[][] | null => {
  const n = 10;
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n * 3);
  let total = 0;
  rows.forEach(({ terms: t, tone }, k) => {
    const w = weights[k];
    if (w === 0) return;
    total += w;
    for (let i = 0; i < n; i++) {
      const wt = w * t[i];
      for (let j = 0; j <= i; j++) normal[i * n + j] += wt * t[j];
      for (let p = 0; p < 3; p++) right[3 * i + p] += wt * tone[p];
    }
  });
  if (total < LEAST_PAPER) return null;
  const square = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      square.set(i, j, normal[i * n + j]);
      square.set(j, i, normal[i * n + j]);
    }
    // Where little paper shows, the higher terms stay small.
    square.set(i, i, normal[i * n + i] + (i === 0 ? 1e-9 : i < 6 ? 1e-4 : 3e-3) * total);
  }
  return solve(square, Matrix.from1DArray(n, 3, right))
    .transpose()
    .to2DArray();
};

/** The view on axes where bare paper is 0, 0, 0: light that falls off over the sheet is out of it. */
export const againstPaper = (view: SheetView, luminance: readonly number[], paper: PaperLook): ToneField => {
  const field = toneField(view.photo, luminance);
  const { widthPx, heightPx } = field;
  const [light, redGreen, blueGreen] = [field.light.slice(), field.redGreen.slice(), field.blueGreen.slice()];
  [light, redGreen, blueGreen].forEach((plane, p) => {
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
  return { ...field, light, redGreen, blueGreen };
};
