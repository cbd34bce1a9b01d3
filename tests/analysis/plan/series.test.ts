import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { geometricMean, interquartileRange, mean } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import {
  addedBursts,
  aroundSeries,
  equalStopSeries,
  equalTimeSeries,
} from '../../../analysis/plan/series.ts';
import { formatClock, parseSeconds } from '../../../analysis/plan/time.ts';

const invalid = expect.objectContaining({ code: 'plan-invalid' });
const rows = (name: string): string[][] =>
  readFileSync(new URL(`../../reference/${name}`, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));

describe('equal-stop series', () => {
  // Computed from 8 · 2^(i/2); two decimals, so half a hundredth of a second is the tolerance.
  test('half stops from 8 s are 8, 11.31, 16, 22.63, 32, 45.25, 64, 90.51 s', () => {
    const series = equalStopSeries(8, 1 / 2, 8);
    expect(series.map((t) => Number(t.toFixed(2)))).toEqual([8, 11.31, 16, 22.63, 32, 45.25, 64, 90.51]);
    expect(addedBursts(series).map((t) => Number(t.toFixed(2)))).toEqual([
      8, 3.31, 4.69, 6.63, 9.37, 13.25, 18.75, 26.51,
    ]);
  });

  test('third stops from 8 s are 8, 10.08, 12.70, 16 … 64 s', () => {
    expect(equalStopSeries(8, 1 / 3, 10).map((t) => t.toFixed(2))).toEqual(
      '8.00 10.08 12.70 16.00 20.16 25.40 32.00 40.32 50.80 64.00'.split(' '),
    );
  });

  // Seen on alternativeprinting.co.uk: a third-stop table, minutes and seconds, whose 13'42 is a slip for 12'42.
  test("agrees with a published third-stop table within a second, and gives 12'42 where that prints 13'42", () => {
    const published = "4'00 5'02 6'21 8'00 10'05 13'42 16'00 20'10 25'24 32'00".split(' ').map(parseSeconds);
    const ours = equalStopSeries(240, 1 / 3, 10);
    const apart = ours.map((t, i) => Math.abs(t - published[i]));
    expect(apart.flatMap((d, i) => (d > 1 ? [i] : []))).toEqual([5]);
    expect(apart[5]).toBeCloseTo(60, 0);
    expect(formatClock(Math.round(ours[5]))).toBe('12:42');
  });

  // tests/reference/fstop_loge.csv: exact columns computed with 2^stops.
  test('reaches every ratio of the stop table from 1 s within 5e-9', () => {
    for (const [stops, , logE, ratio] of rows('fstop_loge.csv')) {
      if (Number(stops) === 0) continue;
      const whole = Math.max(1, Math.ceil(Number(stops) / 4));
      const series = equalStopSeries(1, Number(stops) / whole, whole + 1);
      // The table prints thirds of a stop with 6 decimals, which is worth 5e-7 · ln 2 of the ratio.
      expect(Math.abs(series[whole] / Number(ratio) - 1)).toBeLessThan(5e-7);
      expect(Math.log10(series[whole])).toBeCloseTo(Number(logE), 6);
    }
  });

  // tests/reference/fstop_time_sequences.csv: exact_seconds from 1 s, printed with 6 decimals.
  test.each([
    ['third', 1 / 3, 16],
    ['half', 1 / 2, 11],
    ['R10 (0.1 logE per step)', 0.1 / Math.log10(2), 11],
  ])('matches the exact column of the %s series within 5e-7 s', (name, stops, count) => {
    const exact = rows('fstop_time_sequences.csv')
      .filter((row) => row[0] === name)
      .map((row) => Number(row[2]));
    expect(exact).toHaveLength(count);
    const series = equalStopSeries(1, stops, count);
    expect(Math.max(...series.map((t, i) => Math.abs(t - exact[i])))).toBeLessThan(5.1e-7);
  });
});

describe('equal-time series', () => {
  // US Navy training text 14209 (2–8 s, 5–20 s) and US Army SS0509 (2–10 s): cumulative cover strips.
  test.each([
    [2, 4, [2, 4, 6, 8]],
    [5, 4, [5, 10, 15, 20]],
    [2, 5, [2, 4, 6, 8, 10]],
  ])('%d s added %d times is %j', (added, count, expected) => {
    const series = equalTimeSeries(added, added, count);
    expect(series).toEqual(expected);
    expect(addedBursts(series)).toEqual(Array(count).fill(added));
  });

  test('lies evenly in time: mean and middle agree', () => {
    const series = equalTimeSeries(7, 11, 9);
    expect(mean(series)).toBeCloseTo(series[4], 12);
    expect(interquartileRange(series)).toBeCloseTo(44, 12);
  });
});

describe('series around a guess', () => {
  test('puts 240 s in the middle of five half-stop steps, and its geometric mean there', () => {
    const series = aroundSeries(240, 1 / 2, 5);
    expect(series[2]).toBeCloseTo(240, 12);
    expect(geometricMean(series)).toBeCloseTo(240, 9);
  });

  test('leans to the short side with an even count', () => {
    expect(aroundSeries(240, 1, 4).map(Math.round)).toEqual([60, 120, 240, 480]);
  });
});

test('added bursts of any series sum up to its longest time', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 100, noNaN: true }),
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      fc.integer({ min: 1, max: 9 }),
      (first, stops, count) => {
        const series = equalStopSeries(first, stops, count);
        const bursts = addedBursts(series);
        expect(bursts.every((burst) => burst > 0)).toBe(true);
        expect(bursts.reduce((sum, burst) => sum + burst, 0)).toBeCloseTo(series[count - 1], 6);
      },
    ),
  );
});

test.each([
  ['no time', () => equalStopSeries(0, 1, 5)],
  ['a negative time', () => equalStopSeries(-3, 1, 5)],
  ['NaN', () => equalStopSeries(Number.NaN, 1, 5)],
  ['a step of 0 stops', () => equalStopSeries(8, 0, 5)],
  ['9 stops per step', () => equalStopSeries(8, 9, 3)],
  ['half a step', () => equalStopSeries(8, 1, 2.5)],
  ['no steps', () => equalStopSeries(8, 1, 0)],
  ['25 steps', () => equalStopSeries(1, 0.1, 25)],
  ['more than 24 h', () => equalStopSeries(3600, 1, 6)],
  ['no added time', () => equalTimeSeries(8, 0, 5)],
  ['a guess of 0 s', () => aroundSeries(0, 1, 5)],
])('refuses a series with %s', (_, series) => {
  expect(series).toThrowError(invalid);
});
