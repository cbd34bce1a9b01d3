import { quantile, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { figureOf, intervalsPart, normalFigure } from '../../../analysis/across/interval.ts';
import { normals } from './noise.ts';

describe('figureOf', () => {
  test('holds the 5th and 95th percentile of 0 to 100', () => {
    const figure = figureOf(
      50,
      Array.from({ length: 101 }, (_, i) => 100 - i),
    );
    expect(figure).toEqual({ value: 50, low: 5, high: 95 });
  });

  test('agrees with the normal interval on 10 000 normal draws within 3 % of its width', () => {
    const normal = normals(7);
    const draws = Array.from({ length: 10_000 }, () => 20 + 2 * normal());
    const figure = figureOf(20, draws);
    const exact = normalFigure(20, sampleStandardDeviation(draws));
    expect(Math.abs((figure.low ?? 0) - (exact.low ?? 0))).toBeLessThan(0.2);
    expect(Math.abs((figure.high ?? 0) - (exact.high ?? 0))).toBeLessThan(0.2);
    expect(figure.low).toBe(quantile(draws, 0.05));
  });

  test('is open above where more than 5 % of the draws never get there', () => {
    const draws = [...Array(90).fill(10), ...Array(10).fill(null)];
    expect(figureOf(10, draws)).toEqual({ value: 10, low: 10, high: null });
  });

  test('has nothing to say without a value', () => {
    expect(figureOf(null, [1, 2, 3])).toEqual({ value: null, low: null, high: null });
  });
});

describe('intervalsPart', () => {
  const figure = (low: number | null, high: number | null) => ({ value: 1, low, high });

  test('1 to 2 and 2.1 to 3 part; 1 to 2 and 2 to 3 touch and do not', () => {
    expect(intervalsPart(figure(1, 2), figure(2.1, 3))).toBe(true);
    expect(intervalsPart(figure(2.1, 3), figure(1, 2))).toBe(true);
    expect(intervalsPart(figure(1, 2), figure(2, 3))).toBe(false);
  });

  test('one open above from 5 parts from 1 to 2 and not from 6 to 7', () => {
    expect(intervalsPart(figure(1, 2), figure(5, null))).toBe(true);
    expect(intervalsPart(figure(6, 7), figure(5, null))).toBe(false);
  });
});
