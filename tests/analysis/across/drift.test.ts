import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { readDrift } from '../../../analysis/across/drift.ts';
import { lampFading, studentT95 } from '../../../analysis/across/fading.ts';
import { notFinite } from './finite.ts';

/** A fixed wobble of about ±0.05 stop without a trend, so that tests need no chance. */
const WOBBLE = [
  0.02, -0.03, 0.04, -0.01, -0.05, 0.03, 0.01, -0.02, 0.05, -0.04, 0.02, -0.03, 0.03, -0.01, 0.01, -0.02,
];
const wobble = (i: number) => WOBBLE[i % WOBBLE.length];
const scraps = (count: number, shift: (i: number) => number, setup = 'tubes 1') =>
  Array.from({ length: count }, (_, i) => ({ shiftStops: shift(i) + wobble(i), setup, lampHours: 5 * i }));

describe('readDrift', () => {
  test('gathers up to 7 scraps, is provisional from 8, a baseline from 20', () => {
    expect(readDrift(scraps(7, () => 0))).toMatchObject({ kind: 'gathering', count: 7, needed: 8 });
    const provisional = readDrift(scraps(8, () => 0));
    expect(provisional).toMatchObject({ kind: 'chart', individuals: { state: 'provisional' } });
    expect(provisional.sentence).toContain('8 of 20');
    expect(readDrift(scraps(20, () => 0))).toMatchObject({
      kind: 'chart',
      individuals: { state: 'baseline' },
    });
  });

  test('calls a wobble of 0.05 stop steady and leaves times alone', () => {
    const report = readDrift(scraps(32, () => 0));
    expect(report).toMatchObject({ kind: 'chart', verdict: 'steady', timeFactor: 1, findings: [] });
  });

  test('calls one scrap 0.4 stop slow a jump, to be repeated before any time is changed', () => {
    const report = readDrift(scraps(25, (i) => (i === 24 ? -0.4 : 0)));
    expect(report).toMatchObject({ kind: 'chart', verdict: 'jump', timeFactor: 1 });
    expect(report.sentence).toContain('Repeat it');
  });

  test('sees tubes that lose 0.01 stop per scrap after the baseline by the moving average before the limits do', () => {
    const report = readDrift(scraps(36, (i) => -0.01 * Math.max(0, i - 19)));
    if (report.kind !== 'chart') throw new Error('expected a chart');
    expect(report.verdict).toBe('drifting');
    expect(report.levelStops).toBeLessThan(-0.08);
    expect(report.timeFactor).toBeCloseTo(2 ** -report.levelStops, 12);
    const first = (code: string) => report.findings.find((finding) => finding.code === code)?.index ?? 99;
    expect(first('moving-average')).toBeLessThan(first('beyond-limits'));
  });

  test('says the loss per 100 lamp hours and its interval with one sign: both as what is lost', () => {
    const losing = readDrift(scraps(20, (i) => -0.02 * i));
    if (losing.kind !== 'chart' || losing.fading === null) throw new Error('expected a rate');
    const [rate, least, most] =
      /loses (\d\.\d\d) stop per 100 lamp hours \(90 %: (\d\.\d\d) to (\d\.\d\d)\)/
        .exec(losing.sentence)
        ?.slice(1)
        .map(Number) ?? [];
    // 0.02 stop for each 5 h.
    expect(losing.fading.low).toBeLessThan(-0.4);
    expect(losing.fading.high).toBeGreaterThan(-0.42);
    expect(least).toBeCloseTo(-losing.fading.high, 2);
    expect(most).toBeCloseTo(-losing.fading.low, 2);
    expect(least).toBeLessThanOrEqual(rate);
    expect(most).toBeGreaterThanOrEqual(rate);
    expect(readDrift(scraps(20, (i) => 0.02 * i)).sentence).toMatch(
      /gains 0\.\d\d stop per 100 lamp hours \(90 %: 0\./,
    );
  });

  test('a change of setup starts a new baseline and does not pool', () => {
    const report = readDrift([...scraps(25, () => 0), ...scraps(3, () => 1, 'tubes 2')]);
    expect(report).toMatchObject({ kind: 'gathering', count: 3 });
    expect(report.sentence).toContain('new baseline');
    const grown = readDrift([...scraps(25, () => 0), ...scraps(9, () => 1, 'tubes 2')]);
    expect(grown).toMatchObject({ kind: 'chart', from: 25, verdict: 'steady' });
  });

  test('never throws or gives NaN on 1000 histories of any length, equal and wild values among them', () => {
    const record = fc.record({
      shiftStops: fc.oneof(fc.constant(0), fc.double({ min: -8, max: 8, noNaN: true })),
      setup: fc.constantFrom('a', 'a', 'a', 'b'),
      lampHours: fc.double({ min: 0, max: 5000, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(record, { maxLength: 60 }), (records) => {
        expect(notFinite(readDrift(records))).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });

  test('refuses a shift that is no number', () => {
    expect(() => readDrift([{ shiftStops: Number.NaN, setup: 'a' }])).toThrowError(
      expect.objectContaining({ code: 'comparison-invalid' }),
    );
  });
});

describe('lampFading', () => {
  const points = Array.from({ length: 20 }, (_, i) => ({
    hours: 10 * i,
    shiftStops: -0.0016 * 10 * i + wobble(i),
  }));

  test('finds −0.16 stop per 100 h inside its interval, and the slope of simple-statistics', () => {
    const fading = lampFading(points);
    const { m } = linearRegression(points.map((p) => [p.hours, p.shiftStops]));
    expect(fading?.stopsPer100Hours).toBeCloseTo(100 * m, 10);
    expect(fading?.low).toBeLessThan(-0.16);
    expect(fading?.high).toBeGreaterThan(-0.16);
    expect(fading?.changing).toBe(true);
  });

  test('calls no change where the wobble is as large as the trend', () => {
    expect(lampFading(points.slice(0, 5).map((p, i) => ({ ...p, shiftStops: wobble(i) })))?.changing).toBe(
      false,
    );
  });

  test('has nothing to say with three scraps or one lamp age', () => {
    expect(lampFading(points.slice(0, 3))).toBeNull();
    expect(lampFading(points.map((p) => ({ ...p, hours: 50 })))).toBeNull();
  });

  // Student's t, 95 %, from memory of the standard tables (three decimals).
  test.each([
    [2, 2.92],
    [3, 2.353],
    [4, 2.132],
    [5, 2.015],
    [6, 1.943],
    [10, 1.812],
    [20, 1.725],
    [120, 1.658],
  ])('t with %d degrees of freedom is %d', (freedom, t) => {
    expect(Math.abs(studentT95(freedom) - t)).toBeLessThan(0.004);
  });
});
