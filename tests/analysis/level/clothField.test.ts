import { describe, expect, it } from 'vitest';
import { baseCloth, cardEndSources, clothSource } from '../../../analysis/level/clothField.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import type { Rgb } from '../../../analysis/photo/photo.ts';
import type { ClothBand } from '../../../analysis/tiles/clothBands.ts';
import type { Tiled, TiledPatch } from '../../../analysis/tiles/tile.ts';

const CLOTH: Rgb = [0.6, 0.58, 0.5];
const DYE: Rgb = [0.1, 0.2, 0.3];

const times = (rgb: Rgb, level: number): Rgb => [rgb[0] * level, rgb[1] * level, rgb[2] * level];

/** A mark of four tiles of one colour about a place. */
const marked = (x: number, y: number, rgb: Rgb): TiledPatch => {
  const quad: Quad = [
    [x - 20, y - 20],
    [x + 20, y - 20],
    [x + 20, y + 20],
    [x - 20, y + 20],
  ];
  const tiles = [0, 1, 2, 3].map((i) => {
    const [column, row] = [i % 2, i >> 1];
    return { x: x - 10 + 20 * column, y: y - 10 + 20 * row, column, row, rgb, pixels: 100, clippedShare: 0 };
  });
  return { quad, columns: 2, rows: 2, tiles };
};

const band = (x: number, rgb: Rgb): ClothBand => ({ x, y: 200, rgb });

const tiledWith = (parts: Partial<Tiled>): Tiled => ({
  widthPx: 1200,
  heightPx: 900,
  card: [],
  steps: [
    { seconds: 0, ...marked(200, 300, CLOTH) },
    { seconds: 60, ...marked(300, 300, DYE) },
  ],
  surround: [],
  bands: [],
  swatch: null,
  ...parts,
});

describe('unexposed cloth along the strip', () => {
  const bare = [1, 0.98, 0.95, 0.93, 0.9].map((level, i) => band(200 + 100 * i, times(CLOTH, level)));

  it('is the five bands of the base’s colour, light falling off by 10 % along them', () => {
    expect(baseCloth(tiledWith({ bands: bare }))).toEqual(bare);
  });

  it('leaves out two bands in dye, one on a grey table as light as cloth, and one half in dye', () => {
    const others = [
      band(300, DYE),
      band(400, DYE),
      band(500, [0.58, 0.58, 0.58]),
      band(600, times(CLOTH, 0.75)),
    ];
    expect(baseCloth(tiledWith({ bands: [...others, ...bare] }))).toEqual(bare);
  });

  it('is none with three bands, and none where the strip has no base', () => {
    expect(baseCloth(tiledWith({ bands: bare.slice(0, 3) }))).toBeNull();
    const withoutBase = tiledWith({ bands: bare, steps: [{ seconds: 60, ...marked(300, 300, DYE) }] });
    expect(baseCloth(withoutBase)).toBeNull();
  });

  it('tells of the light by its bands as they are, 2 % of its own from band to band', () => {
    const { cells, noise } = clothSource(bare);
    expect(cells).toEqual(bare);
    expect(noise).toEqual({ sd: 0.02, length: 0, ownShare: 1, grain: null });
  });
});

describe('cards at both ends', () => {
  const card = (x: number, level: number) => [
    { name: 'white', ...marked(x, 100, times([0.9, 0.9, 0.9], level)) },
    { name: 'grey', ...marked(x, 160, times([0.18, 0.18, 0.18], level)) },
  ];

  it('make one source per patch name, each with a cell per card at the patch’s middle', () => {
    const groups = cardEndSources(tiledWith({ card: [...card(100, 1), ...card(1100, 0.8)] }));
    expect(groups).toHaveLength(2);
    for (const { cells } of groups) {
      expect(cells.map((s) => s.x)).toEqual([100, 1100]);
      expect(cells[1].rgb[0] / cells[0].rgb[0]).toBeCloseTo(0.8, 12);
    }
    expect(groups.map(({ cells }) => cells[0].y)).toEqual([100, 160]);
  });

  it('leave out a patch that only one of them shows', () => {
    const groups = cardEndSources(tiledWith({ card: [...card(100, 1), card(1100, 0.8)[1]] }));
    expect(groups.map(({ cells }) => cells[0].y)).toEqual([160]);
  });

  it('tell nothing with one card', () => {
    expect(cardEndSources(tiledWith({ card: card(100, 1) }))).toEqual([]);
  });
});
