import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatClock, formatStops, parseSeconds, parseStops } from '../../../analysis/plan/time.ts';

describe('parseSeconds', () => {
  test.each([
    ['90', 90],
    ['90 s', 90],
    ['1:30', 90],
    ['12:42', 762],
    ["12'42", 762],
    ['12′42″', 762],
    ["5'", 300],
    ['1.5 min', 90],
    ['1,5 min', 90],
    ['2 min 30 s', 150],
    ['2m30s', 150],
    ['0.5', 0.5],
    ['61:40', 3700],
    ['1:01:40', 3700],
    ['1 h 5 min', 3900],
    ['0', 0],
  ])('reads %s as %d s', (text, seconds) => {
    expect(parseSeconds(text)).toBe(seconds);
  });

  test.each([
    '',
    'soon',
    '-5',
    '1:75',
    '1:5',
    '90 parsecs',
    '5 constructor',
    '1:2:3:4',
    '1e5',
    '25 h',
    '5 s!',
    ':30',
    'NaN',
  ])('refuses %j and says how to write a time', (text) => {
    expect(() => parseSeconds(text)).toThrowError(expect.objectContaining({ code: 'plan-invalid' }));
  });

  test('reads back every whole second up to 24 h that the clock shows', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 86_400 }), (seconds) => {
        expect(parseSeconds(formatClock(seconds))).toBe(seconds);
      }),
    );
  });
});

describe('parseStops', () => {
  test.each([
    ['1', 1],
    ['0.5', 0.5],
    ['0,5', 0.5],
    ['1/3', 1 / 3],
    ['1/3 stop', 1 / 3],
    ['1 1/2 stops', 1.5],
    ['½', 0.5],
    ['1½', 1.5],
    ['+⅓', 1 / 3],
    ['-1/3', -1 / 3],
    ['−2', -2],
    ['0', 0],
  ])('reads %s as %d stops', (text, stops) => {
    expect(parseStops(text)).toBeCloseTo(stops, 12);
  });

  test.each(['', 'third', '1/0', '1/', '1//2', '21', '1.5/2', '--1', '1 2'])('refuses %j', (text) => {
    expect(() => parseStops(text)).toThrowError(expect.objectContaining({ code: 'plan-invalid' }));
  });
});

describe('formatClock', () => {
  test.each([
    [0, '00:00'],
    [9, '00:09'],
    [90, '01:30'],
    [762, '12:42'],
    [3700, '61:40'],
    [86_400, '1440:00'],
    [59.96, '01:00'],
    [0.5, '00:00.5'],
    [10.08, '00:10.1'],
  ])('shows %d s as %s', (seconds, clock) => {
    expect(formatClock(seconds)).toBe(clock);
  });

  test('refuses a negative time and one that is no number', () => {
    expect(() => formatClock(-1)).toThrowError(expect.objectContaining({ code: 'plan-invalid' }));
    expect(() => formatClock(Number.NaN)).toThrowError(expect.objectContaining({ code: 'plan-invalid' }));
  });
});

describe('formatStops', () => {
  test.each([
    [1, '1 stop'],
    [1 / 3, '1/3 stop'],
    [4 / 3, '1 1/3 stops'],
    [-0.5, '-1/2 stop'],
    [2, '2 stops'],
    [0, '0 stops'],
    [1.13, '1.13 stops'],
    [0.97, '0.97 stop'],
    [1.9999, '2 stops'],
    [0.9999, '1 stop'],
  ])('says %d as %s', (stops, text) => {
    expect(formatStops(stops)).toBe(text);
  });
});
