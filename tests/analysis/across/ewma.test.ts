import fc from 'fast-check';
import { mean } from 'simple-statistics';
import { expect, test } from 'vitest';
import { ewmaChart } from '../../../analysis/across/ewma.ts';

// NIST/SEMATECH e-Handbook 6.3.2.4, EWMA control charts: twenty values, target 50, s = 2.0539, weight 0.3.
const VALUES = [
  52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
  52.1,
];
const PRINTED = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
  49.92, 50.73, 51.23, 51.94, 51.99,
];
const NIST = { target: 50, sigma: 2.0539 };

test('reproduces all twenty averages of the NIST/SEMATECH example as printed, within half a hundredth', () => {
  const { averages } = ewmaChart(VALUES, NIST, 0.3);
  expect(Math.max(...averages.map((a, i) => Math.abs(a - PRINTED[i])))).toBeLessThan(0.0051);
});

test('limits are 52.5884 and 47.4116 (printed truncated as 47.4115), and nothing is beyond', () => {
  const chart = ewmaChart(VALUES, NIST, 0.3);
  expect(chart.upper).toBeCloseTo(52.5884, 4);
  expect(chart.lower).toBeCloseTo(47.41157, 4);
  expect(Math.abs(chart.lower - 47.4115)).toBeLessThan(1e-4);
  expect(chart.beyond).toEqual([]);
});

test('with a weight of 1 it is the values themselves, with three-sigma limits', () => {
  const chart = ewmaChart(VALUES, NIST, 1);
  expect(chart.averages).toEqual(VALUES);
  expect(chart.upper).toBeCloseTo(50 + 3 * 2.0539, 12);
});

test('stays between the smallest and the largest of target and values, and nears a constant', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 1, maxLength: 60 }),
      (values) => {
        const { averages } = ewmaChart(values, { target: 0, sigma: 1 });
        for (const average of averages) {
          expect(average).toBeGreaterThanOrEqual(Math.min(0, ...values) - 1e-12);
          expect(average).toBeLessThanOrEqual(Math.max(0, ...values) + 1e-12);
        }
      },
    ),
  );
  const steady = ewmaChart(Array(60).fill(3), { target: 0, sigma: 1 }).averages;
  expect(steady[59]).toBeCloseTo(3, 4);
  expect(mean(steady.slice(-5))).toBeGreaterThan(2.99);
});

test('refuses a weight of 0, a negative deviation and a value that is no number', () => {
  const invalid = expect.objectContaining({ code: 'comparison-invalid' });
  expect(() => ewmaChart(VALUES, NIST, 0)).toThrowError(invalid);
  expect(() => ewmaChart(VALUES, { target: 50, sigma: -1 })).toThrowError(invalid);
  expect(() => ewmaChart([Number.NaN], NIST)).toThrowError(invalid);
});
