import type { Quad } from '../locate/marks.ts';
import { containsPoint } from '../locate/quadGeometry.ts';
import type { Photo } from '../photo/photo.ts';
import { CELLS_ALONG } from './surroundCells.ts';
import type { SurroundCell } from './tile.ts';

/** The cells that lie all within areas known to be bare; every cell where none are known. */
export const cellsWithin = (
  { widthPx, heightPx }: Photo,
  areas: readonly Quad[] | undefined,
  cells: readonly SurroundCell[],
): readonly SurroundCell[] => {
  if (!areas) return cells;
  const half = (0.5 * Math.max(widthPx, heightPx)) / CELLS_ALONG;
  return cells.filter(({ x, y }) => allBare(areas, x, y, half));
};

/** Its middle, corners and the middles of its sides. */
const allBare = (areas: readonly Quad[], x: number, y: number, half: number): boolean => {
  for (let row = -1; row <= 1; row++)
    for (let column = -1; column <= 1; column++)
      if (!isBare(areas, x + column * half, y + row * half)) return false;
  return true;
};

const isBare = (areas: readonly Quad[], x: number, y: number): boolean => {
  for (const area of areas) if (mayHold(area, x, y) && containsPoint(area, [x, y])) return true;
  return false;
};

/** Whether a place lies within the area's reach along both sides of the photo. */
const mayHold = ([p, q, r, s]: Quad, x: number, y: number): boolean =>
  x >= Math.min(p[0], q[0], r[0], s[0]) &&
  x <= Math.max(p[0], q[0], r[0], s[0]) &&
  y >= Math.min(p[1], q[1], r[1], s[1]) &&
  y <= Math.max(p[1], q[1], r[1], s[1]);
