import { describe, expect, it } from 'vitest';
import { tilePatch } from '../../../analysis/tiles/tilePatch.ts';
import { box, grey, paintedPhoto, srgbLight } from './paintedPhoto.ts';

describe('a marked area of 100 × 100 px', () => {
  const photo = paintedPhoto(120, 120, () => grey(100));
  const { tiles, columns, rows } = tilePatch(photo, box(10, 10, 110, 110), 'the area');

  it('is cut into 8 × 8 tiles of 8 × 8 px: the middle 64 px of each side', () => {
    expect([columns, rows, tiles.length]).toEqual([8, 8, 64]);
    expect(tiles.map((t) => t.pixels)).toEqual(new Array(64).fill(64));
  });

  it('has its first tile’s centre 4 px inside the kept middle and its last one 60 px further', () => {
    expect(tiles[0]).toMatchObject({ column: 0, row: 0 });
    expect(tiles[0].x).toBeCloseTo(10 + 18 + 4, 9);
    expect(tiles[0].y).toBeCloseTo(10 + 18 + 4, 9);
    expect(tiles[63].x).toBeCloseTo(10 + 18 + 60, 9);
    expect(tiles[63].y).toBeCloseTo(10 + 18 + 60, 9);
  });
});

describe('the mean of a tile', () => {
  // sRGB codes 64 and 192: light 0.0513 and 0.5271, mean 0.2892. Code 128, their mean, has light 0.2159. Source: IEC 61966-2-1.
  it('of a check of codes 64 and 192 is the mean of their light, 0.2892, not the light of their mean code, 0.2159', () => {
    const photo = paintedPhoto(120, 120, (x, y) => grey((x + y) % 2 === 0 ? 64 : 192));
    const { tiles } = tilePatch(photo, box(10, 10, 110, 110), 'the check');
    for (const tile of tiles) for (const light of tile.rgb) expect(light).toBeCloseTo(0.28919, 5);
  });

  it('keeps the channels apart', () => {
    const photo = paintedPhoto(120, 120, () => [200, 100, 50]);
    const { tiles } = tilePatch(photo, box(10, 10, 110, 110), 'the area');
    for (const c of [0, 1, 2]) expect(tiles[20].rgb[c]).toBeCloseTo(srgbLight([200, 100, 50][c]), 6);
  });

  it('in 16 bit is the light of the code’s share of 65535: 0.2140 for half', () => {
    const photo = paintedPhoto(120, 120, () => grey(32768), 65535);
    const { tiles } = tilePatch(photo, box(10, 10, 110, 110), 'the area');
    expect(tiles).toHaveLength(64);
    // ((0.5 + 0.055) / 1.055)^2.4 = 0.21404. Source: IEC 61966-2-1.
    for (const tile of tiles) expect(tile.rgb[1]).toBeCloseTo(0.21405, 4);
  });
});

describe('the edges of a marked area', () => {
  const ringed = (px: number) =>
    tilePatch(
      paintedPhoto(120, 120, (x, y) => grey(Math.min(x - 10, y - 10, 109 - x, 109 - y) < px ? 240 : 100)),
      box(10, 10, 110, 110),
      'the ringed area',
    );

  it('are left out: a white ring of 18 px in 100 does not reach a tile', () => {
    for (const tile of ringed(18).tiles) expect(tile.rgb[1]).toBeCloseTo(srgbLight(100), 6);
  });

  it('are left out no further: a ring of 20 px reaches the 28 outer tiles by 2 px and none of the inner', () => {
    const lit = ringed(20).tiles.filter((t) => t.rgb[1] > srgbLight(101));
    expect(lit).toHaveLength(28);
    expect(lit.every((t) => t.column === 0 || t.column === 7 || t.row === 0 || t.row === 7)).toBe(true);
  });

  it('of a diamond are its own, not those of the box around it', () => {
    const photo = paintedPhoto(200, 200, (x, y) =>
      grey(Math.abs(x + 0.5 - 100) + Math.abs(y + 0.5 - 100) <= 80 ? 100 : 240),
    );
    const { tiles } = tilePatch(
      photo,
      [
        [100, 20],
        [180, 100],
        [100, 180],
        [20, 100],
      ],
      'the diamond',
    );
    expect(tiles).toHaveLength(64);
    for (const tile of tiles) expect(tile.rgb[1]).toBeCloseTo(srgbLight(100), 6);
    // The kept middle is a square of 64 % of the diamond's side of 113.1 px.
    expect(tiles.reduce((s, t) => s + t.pixels, 0) / (0.64 * Math.hypot(80, 80)) ** 2).toBeCloseTo(1, 1);
  });
});

describe('the clipped share of a tile', () => {
  const clippedOf = (code: number) => {
    const photo = paintedPhoto(120, 120, (x, y) =>
      y === 30 && x >= 28 && x < 33 ? [100, code, 100] : grey(100),
    );
    return tilePatch(photo, box(10, 10, 110, 110), 'the area').tiles.map((t) => t.clippedShare);
  };

  it('counts its pixels with a channel at either end: 5 of 64 in the first tile, none elsewhere', () => {
    for (const code of [255, 254, 1, 0]) {
      const [first, ...rest] = clippedOf(code);
      expect(first).toBe(5 / 64);
      expect(rest.every((share) => share === 0)).toBe(true);
    }
  });

  it('does not count codes 2 and 253', () => {
    for (const code of [2, 253]) expect(Math.max(...clippedOf(code))).toBe(0);
  });

  it('follows the photo’s own mask where it brings one', () => {
    const photo = paintedPhoto(120, 120, () => grey(255));
    const clippedInFile = new Uint8Array(120 * 120);
    for (let y = 28; y < 36; y++) clippedInFile[120 * y + 28] = 1;
    const { tiles } = tilePatch({ ...photo, clippedInFile }, box(10, 10, 110, 110), 'the area');
    expect(tiles[0].clippedShare).toBe(8 / 64);
    expect(tiles.slice(1).every((t) => t.clippedShare === 0)).toBe(true);
  });
});

describe('a marked area that cannot be measured', () => {
  const photo = paintedPhoto(120, 120, () => grey(100));

  it('is refused where it reaches 3 px over the photo’s border', () => {
    expect(() => tilePatch(photo, box(60, 60, 123, 110), 'card patch "white"')).toThrow(
      expect.objectContaining({
        code: 'marks-outside-photo',
        message: expect.stringContaining('card patch "white"'),
      }),
    );
  });

  it('is refused at 6 px, whose kept middle is below 4 px, and read at 7 px', () => {
    expect(() => tilePatch(photo, box(10, 10, 16, 60), 'the step of 90 s')).toThrow(
      expect.objectContaining({ code: 'marks-too-small', message: expect.stringContaining('6 × 50') }),
    );
    expect(tilePatch(photo, box(10, 10, 17, 60), 'the step of 90 s').columns).toBe(1);
  });

  it('is refused where three corners all but meet, so that no pixel is left inside its edges', () => {
    const folded = [
      [10, 10],
      [110, 10],
      [10.01, 10.02],
      [10, 10.01],
    ] as const;
    expect(() => tilePatch(photo, folded, 'the step of 20 s')).toThrow(
      expect.objectContaining({
        code: 'marks-too-small',
        message: expect.stringContaining('the step of 20 s'),
      }),
    );
  });
});
