import type { Point, Quad } from '../locate/marks.ts';
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
  const bare = (point: Point): boolean => areas.some((area) => containsPoint(area, point));
  return cells.filter(({ x, y }) =>
    [-half, 0, half].every((dy) => [-half, 0, half].every((dx) => bare([x + dx, y + dy]))),
  );
};
