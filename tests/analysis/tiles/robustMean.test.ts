import { describe, expect, it } from 'vitest';
import { robustMean } from '../../../analysis/tiles/robustMean.ts';
import { normalNumbers } from './normalNumbers.ts';
import { tileGrid } from './tileGrid.ts';

const even = () => [1, 1, 1] as const;

/** Light that varies by ±0.5 % in a fixed pattern, as a real patch never is quite flat. */
const nearly = (value: number, column: number, row: number) =>
  value * (1 + 0.005 * ((column + 2 * row) % 3) - 0.005);

/** A patch of 8 × 8 tiles of grey 0.3 ± 0.5 %, some of its tiles changed by a factor per channel. */
const spoilt = (factorAt: (column: number, row: number) => readonly [number, number, number]) =>
  tileGrid(8, 8, (column, row) => {
    const [r, g, b] = factorAt(column, row);
    const light = nearly(0.3, column, row);
    return [r * light, g * light, b * light];
  });

describe('foreign tiles', () => {
  it('none in a clean patch: all 64 tiles are used', () => {
    expect(
      robustMean(
        spoilt(() => [1, 1, 1]),
        even,
      ),
    ).toMatchObject({ tilesUsed: 64, tilesDropped: 0 });
  });

  it('a stain that darkens 3 tiles by 15 % is dropped and does not move the mean by 0.1 %', () => {
    const mean = robustMean(
      spoilt((column, row) => (row === 2 && column >= 3 && column < 6 ? [0.85, 0.85, 0.85] : [1, 1, 1])),
      even,
    );
    expect(mean.tilesDropped).toBe(3);
    expect(Math.abs(mean.rgb[1] / 0.3 - 1)).toBeLessThan(0.001);
  });

  it('a crease, lit by 8 % on one side and shaded by 8 % on the other, is dropped: 16 of 64 tiles', () => {
    const mean = robustMean(
      spoilt((column) => {
        const factor = column === 3 ? 1.08 : column === 4 ? 0.92 : 1;
        return [factor, factor, factor];
      }),
      even,
    );
    expect(mean.tilesDropped).toBe(16);
    expect(Math.abs(mean.rgb[1] / 0.3 - 1)).toBeLessThan(0.001);
  });

  it('a thread that brightens one row by 20 % is dropped: 8 of 64 tiles', () => {
    const mean = robustMean(
      spoilt((_, row) => (row === 5 ? [1.2, 1.2, 1.2] : [1, 1, 1])),
      even,
    );
    expect(mean.tilesDropped).toBe(8);
    expect(Math.abs(mean.rgb[1] / 0.3 - 1)).toBeLessThan(0.001);
  });

  it('a tint in blue alone, 10 %, is dropped though the green light is right', () => {
    const mean = robustMean(
      spoilt((column, row) => (column < 2 && row < 2 ? [1, 1, 0.9] : [1, 1, 1])),
      even,
    );
    expect(mean.tilesDropped).toBe(4);
    expect(Math.abs(mean.rgb[2] / 0.3 - 1)).toBeLessThan(0.001);
  });

  it('a difference of 1 % is the patch’s own and stays', () => {
    expect(
      robustMean(
        spoilt((column) => (column < 2 ? [1.01, 1.01, 1.01] : [1, 1, 1])),
        even,
      ).tilesDropped,
    ).toBe(0);
  });
});

describe('the mean', () => {
  it('is one of linear light: of 0.2 and 0.204 in equal shares 0.202', () => {
    const mean = robustMean(
      tileGrid(8, 8, (column) => (column % 2 === 0 ? [0.2, 0.2, 0.2] : [0.204, 0.204, 0.204])),
      even,
    );
    expect(mean.rgb[1]).toBeCloseTo(0.202, 9);
  });

  it('has the fall-off of the light taken out: 30 % across the patch leave no unevenness', () => {
    const light = (x: number) => 0.85 + (0.3 * x) / 80;
    const patch = tileGrid(8, 8, (column) => {
      const value = 0.4 * light(10 * column + 5);
      return [value, value, value];
    });
    const levelled = robustMean(patch, (x) => [light(x), light(x), light(x)]);
    expect(levelled.rgb[1]).toBeCloseTo(0.4, 9);
    expect(levelled.unevenness).toBeLessThan(1e-9);
    expect(robustMean(patch, even).unevenness).toBeGreaterThan(0.08);
  });

  it('counts clipped pixels over all tiles: 0.5 in one of 64 is 1/128', () => {
    const patch = tileGrid(
      8,
      8,
      () => [0.3, 0.3, 0.3],
      (column, row) => (column === 0 && row === 0 ? 0.5 : 0),
    );
    expect(robustMean(patch, even).clippedShare).toBeCloseTo(1 / 128, 12);
  });
});

describe('the standard error', () => {
  const TRIALS = 400;

  /** Share of patches whose mean lies within two standard errors of the truth, and mean squared error over mean se². */
  const coverage = (fieldOf: (next: () => number) => (column: number, row: number) => number) => {
    const next = normalNumbers(11);
    let within = 0;
    let [squares, claimed] = [0, 0];
    for (let trial = 0; trial < TRIALS; trial++) {
      const field = fieldOf(next);
      const { rgb, relativeSe } = robustMean(
        tileGrid(8, 8, (column, row) => {
          const value = 0.3 * (1 + 0.02 * field(column, row));
          return [value, value, value];
        }),
        even,
      );
      const error = rgb[1] / 0.3 - 1;
      if (Math.abs(error) < 2 * relativeSe[1]) within++;
      squares += error ** 2;
      claimed += relativeSe[1] ** 2;
    }
    return { within: within / TRIALS, ratio: Math.sqrt(squares / claimed) };
  };

  // Two standard errors hold 95 % of a normal law; ±3 % is three standard deviations of 400 draws.
  it('of tiles that vary independently by 2 %: two of them hold the truth in 92 to 99 % of 400 patches', () => {
    const { within, ratio } = coverage((next) => {
      const values = Array.from({ length: 64 }, next);
      return (column, row) => values[8 * row + column];
    });
    expect(within).toBeGreaterThan(0.92);
    expect(within).toBeLessThan(0.99);
    expect(ratio).toBeGreaterThan(0.75);
    expect(ratio).toBeLessThan(1.1);
  });

  it('of cloth whose texture hangs together over three tiles: still at least 85 %, where independence would hold 55 %', () => {
    const { within, ratio } = coverage((next) => {
      const values = Array.from({ length: 100 }, next);
      return (column, row) => {
        let sum = 0;
        for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) sum += values[10 * (row + r) + column + c];
        return sum / 3;
      };
    });
    expect(within).toBeGreaterThan(0.85);
    expect(ratio).toBeLessThan(1.4);
  });
});
