import { describe, expect, it } from 'vitest';
import { surroundCells } from '../../../analysis/tiles/surroundCells.ts';
import { box, grey, paintedPhoto, srgbLight } from './paintedPhoto.ts';

/** 560 × 420 px: 56 × 42 cells of 10 × 10 px. */
const WIDTH = 560;
const HEIGHT = 420;

describe('the cells of a plain table of 560 × 420 px', () => {
  const photo = paintedPhoto(WIDTH, HEIGHT, () => [150, 140, 120]);
  const cells = surroundCells(photo, [box(200, 150, 300, 250)]);

  it('are 56 × 42 less the 22 × 22 that touch the mark grown by half its side all round', () => {
    // The mark of 100 px grows to 150..350 × 100..300; the cells beyond its border touch it with theirs.
    expect(cells).toHaveLength(56 * 42 - 22 * 22);
  });

  it('never lie in the grown mark', () => {
    for (const { x, y } of cells) expect(x > 150 && x < 350 && y > 100 && y < 300).toBe(false);
  });

  it('hold the table’s light and no texture', () => {
    for (const { rgb, texture } of cells) {
      expect(rgb[0]).toBeCloseTo(srgbLight(150), 6);
      expect(rgb[1]).toBeCloseTo(srgbLight(140), 6);
      expect(rgb[2]).toBeCloseTo(srgbLight(120), 6);
      expect(texture).toBeLessThan(1e-6);
    }
  });
});

it('leaves card and strip out: a black card on a white table shows in no cell', () => {
  const photo = paintedPhoto(WIDTH, HEIGHT, (x, y) =>
    grey(x >= 200 && x < 300 && y >= 150 && y < 250 ? 10 : 220),
  );
  const cells = surroundCells(photo, [box(200, 150, 300, 250)]);
  expect(cells.length).toBeGreaterThan(1800);
  for (const { rgb } of cells) expect(rgb[1]).toBeCloseTo(srgbLight(220), 6);
});

// In a photo of 1000 × 750 px a cell is 17.86 px wide; rounded up, the last one would reach into the next row's first pixel.
it('stays within a photo of 1000 × 750 px: a bright first column and a dark last row show in their own cells only', () => {
  const photo = paintedPhoto(1000, 750, (x, y) => grey(x === 0 ? 240 : y === 749 ? 20 : 100));
  const cells = surroundCells(photo, []);
  expect(cells).toHaveLength(56 * 42);
  for (const { x, y, rgb, texture } of cells) {
    expect(Number.isFinite(rgb[0] + rgb[1] + rgb[2] + texture)).toBe(true);
    const own = x > 18 && y < 730;
    if (own) expect(rgb[1]).toBeCloseTo(srgbLight(100), 6);
  }
});

it('says how textured a cell is: rows of codes 100 and 140 in turn spread by half their ln light’s difference', () => {
  const photo = paintedPhoto(WIDTH, HEIGHT, (_, y) => grey(y % 2 === 0 ? 100 : 140));
  const wanted = (Math.log(srgbLight(140)) - Math.log(srgbLight(100))) / 2;
  for (const { texture } of surroundCells(photo, [])) expect(texture).toBeCloseTo(wanted, 4);
});

describe('clipped cells', () => {
  // 3 of a cell's 100 px.
  const spot = (x: number, y: number) => y === 55 && x >= 102 && x < 105;

  it('are left out: one with 3 % of its pixels at 255 is missing, the other 2351 are there', () => {
    const cells = surroundCells(
      paintedPhoto(WIDTH, HEIGHT, (x, y) => grey(spot(x, y) ? 255 : 150)),
      [],
    );
    expect(cells).toHaveLength(56 * 42 - 1);
    expect(cells.some(({ x, y }) => x === 105 && y === 55)).toBe(false);
  });

  it('are left out by the photo’s own mask where it brings one', () => {
    const clippedInFile = new Uint8Array(WIDTH * HEIGHT);
    for (let x = 102; x < 105; x++) clippedInFile[WIDTH * 55 + x] = 1;
    const photo = paintedPhoto(WIDTH, HEIGHT, () => grey(150));
    expect(surroundCells({ ...photo, clippedInFile }, [])).toHaveLength(56 * 42 - 1);
  });
});
