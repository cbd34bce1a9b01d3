import { describe, expect, it } from 'vitest';
import { findSurface } from '../../../analysis/level/surface.ts';
import type { SurroundCell } from '../../../analysis/tiles/tile.ts';
import { random } from '../../../fixtures/random.ts';
import { HALF_PX, HEIGHT_PX, WIDTH_PX } from './scatter.ts';

const COLUMNS = 32;
const ROWS = 24;

interface Look {
  readonly rgb: readonly [number, number, number];
  /** Standard deviation in ln light from cell to cell, and within a cell. */
  readonly rough: number;
}
const BOARD: Look = { rgb: [0.4, 0.4, 0.38], rough: 0.01 };
const CARPET: Look = { rgb: [0.25, 0.08, 0.06], rough: 0.25 };

/** Cells of a photo whose light falls off by a third from left to right. */
const photographed = (lookAt: (column: number, row: number) => Look): SurroundCell[] => {
  const rng = random(3, 4);
  return Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const [column, row] = [i % COLUMNS, Math.floor(i / COLUMNS)];
    const { rgb, rough } = lookAt(column, row);
    const level = Math.exp((-0.4 * column) / COLUMNS + rough * rng.normal());
    return {
      x: ((column + 0.5) * WIDTH_PX) / COLUMNS,
      y: ((row + 0.5) * HEIGHT_PX) / ROWS,
      rgb: [rgb[0] * level, rgb[1] * level, rgb[2] * level],
      texture: rough,
    };
  });
};
const everywhere = (cells: readonly SurroundCell[]) => cells.map(() => 1);

describe('the surface that card and strip lie on', () => {
  const onBoard = (column: number, row: number) => column >= 8 && column < 24 && row >= 5 && row < 19;
  const cells = photographed((column, row) => (onBoard(column, row) ? BOARD : CARPET));
  const isBoard = (i: number) => onBoard(i % COLUMNS, Math.floor(i / COLUMNS));
  const boardCells = cells.filter((_, i) => isBoard(i)).length;
  /** Nearer to the middle counts more, as near to the marks. */
  const near = cells.map((c) =>
    Math.max(0.1, 1 - Math.hypot(c.x - WIDTH_PX / 2, c.y - HEIGHT_PX / 2) / HALF_PX),
  );

  it('is the board on a carpet, though the carpet fills 71 % of the photo', () => {
    expect(1 - boardCells / cells.length).toBeCloseTo(0.71, 2);
    const surface = findSurface(cells, near, HALF_PX, 1);
    const ofBoard = surface.cells.filter(isBoard).length;
    expect(ofBoard / boardCells).toBeGreaterThan(0.97);
    expect(ofBoard / surface.cells.length).toBeGreaterThan(0.97);
  });

  it('is the board at 20 seeds of the search', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const surface = findSurface(cells, near, HALF_PX, seed);
      expect(surface.cells.filter(isBoard).length / surface.cells.length).toBeGreaterThan(0.95);
      expect(surface.cells.length).toBeGreaterThan(0.9 * boardCells);
    }
  });

  it('is the same for the same seed', () => {
    expect(findSurface(cells, near, HALF_PX, 5)).toEqual(findSurface(cells, near, HALF_PX, 5));
  });

  it('keeps a wooden table’s light and dark parts together: more than half of either, at a grain of ±25 %', () => {
    const grain = (row: number) => 0.25 * Math.sin(row * 1.7);
    const wood = photographed((_, row) => {
      const level = Math.exp(grain(row));
      return { rgb: [0.3 * level, 0.2 * level, 0.1 * level], rough: 0.04 };
    });
    const { cells: kept } = findSurface(wood, everywhere(wood), HALF_PX, 1);
    const inPart = (isLight: boolean) => (i: number) => grain(Math.floor(i / COLUMNS)) > 0 === isLight;
    for (const isLight of [true, false]) {
      const all = wood.filter((_, i) => inPart(isLight)(i)).length;
      expect(kept.filter(inPart(isLight)).length / all).toBeGreaterThan(0.5);
    }
  });

  it('is all of a plain board', () => {
    const board = photographed(() => BOARD);
    const surface = findSurface(board, everywhere(board), HALF_PX, 1);
    expect(surface.share).toBeGreaterThan(0.98);
    expect(surface.cells.length).toBeGreaterThan(0.98 * board.length);
  });

  it('is none where only 11 cells are seen', () => {
    const few = photographed(() => BOARD).slice(0, 11);
    expect(findSurface(few, everywhere(few), HALF_PX, 1)).toEqual({ cells: [], share: 0 });
  });
});
