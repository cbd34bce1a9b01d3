import type { Tile, TiledPatch } from '../../../analysis/tiles/tile.ts';

/** A patch of square tiles, 10 px apart, with the given light at each. */
export const tileGrid = (
  columns: number,
  rows: number,
  rgbAt: (column: number, row: number) => readonly [number, number, number],
  shareAt: (column: number, row: number) => number = () => 0,
): TiledPatch => {
  const tiles: Tile[] = Array.from({ length: columns * rows }, (_, i) => {
    const column = i % columns;
    const row = Math.floor(i / columns);
    return {
      x: 10 * column + 5,
      y: 10 * row + 5,
      column,
      row,
      rgb: rgbAt(column, row),
      pixels: 100,
      clippedShare: shareAt(column, row),
    };
  });
  const [right, bottom] = [10 * columns, 10 * rows];
  return {
    quad: [
      [0, 0],
      [right, 0],
      [right, bottom],
      [0, bottom],
    ],
    columns,
    rows,
    tiles,
  };
};
