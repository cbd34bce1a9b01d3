import { describe, expect, it } from 'vitest';
import { neighbourhood, REACHES } from '../../../analysis/level/neighbourhood.ts';
import type { BrightnessMap } from '../../../analysis/tiles/brightnessMap.ts';

/** 56 × 42 cells of 10 px: a table of ln light 0 with a dark square of ln light −2 in its middle. */
const map = (dark: number): BrightnessMap => ({
  cellPx: 10,
  columns: 56,
  rows: 42,
  logs: Array.from({ length: 56 * 42 }, (_, i) => {
    const [column, row] = [i % 56, Math.floor(i / 56)];
    return column >= 23 && column < 33 && row >= 16 && row < 26 ? dark : 0;
  }),
});

describe('how bright a place’s neighbourhood is', () => {
  it('is the same everywhere, 0, on an even table, whatever its level', () => {
    const even = { ...map(0), logs: map(0).logs.map(() => -1.3) };
    for (const [x, y] of [
      [0, 0],
      [280, 210],
      [559, 419],
    ])
      for (const value of neighbourhood(even)(x, y)) expect(value).toBeCloseTo(0, 12);
  });

  it('is darkest in the middle of a dark square, the more so the nearer it looks', () => {
    const around = neighbourhood(map(-2));
    const [near, wide] = around(280, 210);
    const [nearFar, wideFar] = around(20, 20);
    expect(REACHES[0]).toBeLessThan(REACHES[1]);
    expect(near).toBeLessThan(wide);
    expect(near).toBeLessThan(-0.8);
    expect(nearFar).toBeGreaterThan(0);
    expect(wideFar).toBeGreaterThan(wide);
  });

  it('changes smoothly: by less than 0.05 from one pixel to the next', () => {
    const around = neighbourhood(map(-2));
    for (let x = 100; x < 460; x++)
      expect(Math.abs(around(x + 1, 210)[0] - around(x, 210)[0])).toBeLessThan(0.05);
  });
});
