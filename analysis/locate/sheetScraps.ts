import type { Doubt } from './confidence.ts';
import { unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { fitQuad } from './quadFit.ts';
import { containsPoint, quadCentre } from './quadGeometry.ts';
import { medianOf, paleness, sampleTone } from './sampleTone.ts';
import { countPieces, type Piece, piecesOn } from './sheetPieces.ts';
import type { SheetSteps } from './sheetSteps.ts';
import type { ToneAxes } from './toneField.ts';

/** Of scraps the largest is not so much larger than the smallest. */
const MOST_RATIO = 2.2;
/** Scraps that lie close join by their shadows; at one of these bars, in noises, each stands alone. */
const BARS = [40, 24, 14, 8];

/**
 * The pieces that are scraps: as many as there are steps, all of about one size, with paper between them. Null where
 * there are none such.
 *
 * @param pieces what stands out from the paper at all.
 */
export const scrapsAmong = (
  field: ToneAxes,
  far: Float32Array,
  leastPx: number,
  count: number,
  pieces: readonly Piece[],
): readonly Piece[] | null => {
  if (count < 2) return null;
  if (areScraps(pieces, count)) return pieces;
  if (!comesApart(field, far, leastPx)) return null;
  const chosen: Piece[] = [];
  const isNew = (piece: Piece): boolean => {
    const { quad } = piece;
    if (!quad) return false;
    const centre = quadCentre(quad);
    return !chosen.some(
      (other) =>
        containsPoint(other.quad as Quad, centre) || containsPoint(quad, quadCentre(other.quad as Quad)),
    );
  };
  const add = (found: readonly Piece[]): void => {
    for (const piece of found) if (isNew(piece)) chosen.push(piece);
  };
  for (const bar of BARS) add(piecesOn(field, far, leastPx, bar));
  add(pieces);
  // A bare scrap that a shadow joins to its neighbour: what is left of the two beside the dyed one.
  if (chosen.length < count) {
    const left = new Float32Array(far.length);
    for (const { pixels } of pieces) for (const at of pixels) left[at] = 9;
    for (const { pixels } of chosen) for (const at of pixels) left[at] = 0;
    add(piecesOn(field, left, leastPx, 1, 4));
  }
  const largest = chosen.sort((x, y) => y.pixels.length - x.pixels.length).slice(0, count);
  return areScraps(largest, count) ? largest : null;
};

/**
 * Does what lies there fall into several pieces at one of the higher bars? One cloth stays in one piece down to where
 * its palest step is left out. Looks at a picture of half the size, since most sheets have one cloth.
 */
const comesApart = (field: ToneAxes, far: Float32Array, leastPx: number): boolean => {
  const widthPx = field.widthPx >> 1;
  const heightPx = field.heightPx >> 1;
  const half = new Float32Array(widthPx * heightPx);
  for (let y = 0, to = 0; y < heightPx; y++)
    for (let x = 0, at = 2 * y * field.widthPx; x < widthPx; x++, to++, at += 2)
      half[to] = (far[at] + far[at + 1] + far[at + field.widthPx] + far[at + field.widthPx + 1]) / 4;
  return BARS.slice(0, 3).some((bar) => countPieces(half, widthPx, heightPx, leastPx / 4, bar, 1) > 1);
};

const areScraps = (pieces: readonly Piece[], count: number): boolean => {
  if (pieces.length !== count || pieces.some((piece) => piece.quad === null)) return false;
  const sizes = pieces.map((piece) => piece.pixels.length);
  return Math.max(...sizes) <= MOST_RATIO * Math.min(...sizes) && apart(pieces);
};

/** Steps of one cloth touch; between scraps there is paper. */
const LEAST_GAP_PX = 5;

const apart = (pieces: readonly Piece[]): boolean => {
  const gaps = pieces.flatMap((a, i) =>
    pieces.slice(i + 1).map((b) => gapBetween(a.quad as Quad, b.quad as Quad)),
  );
  return gaps.every((gap) => gap >= -LEAST_GAP_PX) && medianOf(nearest(pieces)) >= LEAST_GAP_PX;
};

const nearest = (pieces: readonly Piece[]): number[] =>
  pieces.map((a) =>
    Math.min(...pieces.filter((b) => b !== a).map((b) => gapBetween(a.quad as Quad, b.quad as Quad))),
  );

/** Room between the upright boxes of two quads, the larger of that across and that down; negative where they overlap. */
const gapBetween = (a: Quad, b: Quad): number =>
  Math.max(
    ...([0, 1] as const).map((axis) => {
      const [x, y] = [a, b].map((quad) => quad.map((point) => point[axis]));
      return Math.max(Math.min(...y) - Math.max(...x), Math.min(...x) - Math.max(...y));
    }),
  );

/** Puts scraps in the order of their exposures: rows or columns read either way, whichever darkens best. */
export const orderScraps = (
  field: ToneAxes,
  far: Float32Array,
  scraps: readonly Piece[],
  leftOver: number,
): SheetSteps | null => {
  const stamp = new Int32Array(field.light.length).fill(-1);
  const seen = scraps.flatMap((piece, i) => {
    const quad = ownOutline(field, far, piece, stamp, i);
    const square = quad && unitSquareTo(quad);
    const tone = square ? sampleTone(field, square, 0.2, 0.8, 0.2, 0.8) : undefined;
    if (!quad || !tone) return [];
    const pale = paleness(tone.light, tone.redGreen, tone.blueGreen, { redGreen: 0, blueGreen: 0 });
    return [{ quad, pale, centre: quadCentre(quad) }];
  });
  if (seen.length < scraps.length) return null;
  const [wide, tall] = [0, 1].map((axis) => medianOf(seen.map(({ quad }) => extent(quad, axis as 0 | 1))));
  const centres = seen.map((s) => s.centre);
  const orders = [inRows(centres, tall, 1, 0), inRows(centres, wide, 0, 1)].flatMap((order) => [
    order,
    [...order].reverse(),
  ]);
  const rated = orders
    .map((order) => ({ order, cost: reversals(order.map((i) => seen[i].pale)) }))
    .sort((a, b) => a.cost - b.cost);
  const [best] = rated;
  const opposite = rated.find((r) => r.order[0] === best.order[best.order.length - 1]) ?? best;
  const another = rated.find((r) => r.order.some((piece, k) => piece !== best.order[k]));
  const doubts: Doubt[] = [
    {
      weight: 3 * Math.exp(-(opposite.cost - best.cost) / 1.2),
      phrase: 'the scraps could also run the other way',
      part: 'direction',
    },
    {
      weight: 1.5 * Math.exp(-((another?.cost ?? 50) - best.cost) / 0.8),
      phrase: 'the scraps could also be in another order',
    },
    { weight: 0.4 * best.cost, phrase: 'the scraps do not darken one after the other' },
    { weight: 0.8 * leftOver, phrase: 'there are more pieces of cloth than steps' },
  ];
  return { steps: best.order.map((i) => seen[i].quad), doubts };
};

/** Every so many pixels of a piece tell its middle. */
const FEW = 7;

/** The piece without the shadow round it: where it is at least half as far from paper as in its middle. */
const ownOutline = (
  field: ToneAxes,
  far: Float32Array,
  { pixels, quad }: Piece,
  stamp: Int32Array,
  mark: number,
): Quad | null => {
  const some = new Float32Array(Math.ceil(pixels.length / FEW));
  for (let k = 0; k < some.length; k++) some[k] = far[pixels[FEW * k]];
  const half = 0.5 * some.sort()[some.length >> 1];
  const own = pixels.filter((at) => far[at] >= half);
  return fitQuad(own, field.widthPx, stamp, mark)?.quad ?? quad;
};

const extent = (quad: Quad, axis: 0 | 1): number => {
  const values = quad.map((point) => point[axis]);
  return Math.max(...values) - Math.min(...values);
};

/** Indices row by row, rows apart by more than half a piece; `across` is the axis that tells rows apart. */
const inRows = (centres: readonly Point[], size: number, across: 0 | 1, along: 0 | 1): number[] => {
  const sorted = centres.map((_, i) => i).sort((a, b) => centres[a][across] - centres[b][across]);
  const rows: number[][] = [];
  sorted.forEach((i, k) => {
    const gap = k === 0 ? Number.POSITIVE_INFINITY : centres[i][across] - centres[sorted[k - 1]][across];
    if (gap > 0.5 * size) rows.push([]);
    rows[rows.length - 1].push(i);
  });
  return rows.flatMap((row) => row.sort((a, b) => centres[a][along] - centres[b][along]));
};

/** How badly paleness fails to fall along a run: squares of its rises over the least so far, in tenths of ln. */
const reversals = (pale: readonly number[]): number => {
  let sum = 0;
  let least = pale[0];
  for (const value of pale.slice(1)) {
    const rise = value - least - 0.03;
    if (rise > 0) sum += Math.min(9, (rise / 0.1) ** 2);
    least = Math.min(least, value);
  }
  return sum;
};
