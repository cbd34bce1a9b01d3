import { describe, expect, it } from 'vitest';
import { robustMean } from '../../../analysis/tiles/robustMean.ts';
import { tilePatch } from '../../../analysis/tiles/tilePatch.ts';
import { box, grey, paintedPhoto, srgbLight } from './paintedPhoto.ts';

const even = () => [1, 1, 1] as const;
const meanOf = (codeAt: (x: number, y: number) => number) =>
  robustMean(
    tilePatch(
      paintedPhoto(120, 120, (x, y) => grey(codeAt(x, y))),
      box(10, 10, 110, 110),
      'the area',
    ),
    even,
  );

describe('the error of an area’s mean', () => {
  it('holds the rounding of its codes where nothing else moves them: 0.29 of one code, 3.2 % at code 9', () => {
    // One code of the straight part of sRGB is 1/255/12.92 of light (IEC 61966-2-1); a uniform error of one code has
    // a standard deviation of 1/√12 (GUM, JCGM 100:2008, 4.3.7, from memory).
    const expected = 1 / Math.sqrt(12) / 9;
    for (const se of meanOf(() => 9).relativeSe) expect(se).toBeCloseTo(expected, 4);
  });

  it('is 0.6 % of light for an even area at code 100', () => {
    const perCode = (srgbLight(101) - srgbLight(99)) / 2 / srgbLight(100);
    expect(perCode / Math.sqrt(12)).toBeCloseTo(0.0063, 3);
    expect(meanOf(() => 100).relativeSe[1]).toBeCloseTo(perCode / Math.sqrt(12), 5);
  });

  it('does not hold it where codes vary by one up and down: pixels then tell the mean between codes', () => {
    expect(meanOf((x, y) => 10 + ((x + y) % 2 === 0 ? 1 : -1)).relativeSe[1]).toBeLessThan(1e-4);
  });
});
