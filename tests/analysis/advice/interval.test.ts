import { describe, expect, it } from 'vitest';
import { interval90 } from '../../../analysis/advice/interval.ts';
import { clock, settable, timerStepFor } from '../../../analysis/advice/settable.ts';

describe('the 90 % interval', () => {
  it('of 0 to 100 is 5 to 95, in any order', () => {
    const draws = Array.from({ length: 101 }, (_, i) => (i * 37) % 101);
    expect(interval90(draws)).toEqual({ low: 5, high: 95 });
  });

  // Source: numpy.quantile([1, 2, 4, 8], [0.05, 0.95]), linear: 1.15 and 7.4.
  it('of 1, 2, 4, 8 lies between the draws, at 1.15 and 7.4', () => {
    const { low, high } = interval90([8, 1, 4, 2]);
    expect(low).toBeCloseTo(1.15, 12);
    expect(high).toBeCloseTo(7.4, 12);
  });

  it('is open above where a tenth of the draws never get there', () => {
    const draws = [...Array.from({ length: 18 }, (_, i) => i), Infinity, Infinity];
    expect(interval90(draws).high).toBe(Number.POSITIVE_INFINITY);
    expect(interval90(draws).low).toBeCloseTo(0.95, 12);
  });
});

describe('what a timer can be set to', () => {
  it.each([
    [119.4, 119],
    [187, 185],
    [598, 600],
    [700, 705],
  ])('%d s is set as %d s', (seconds, set) => {
    expect(settable(seconds, Number.POSITIVE_INFINITY)).toBe(set);
  });

  it('steps are 1 s below 2 min, 5 s below 10 min, 15 s from there on', () => {
    expect([119, 120, 599, 600].map(timerStepFor)).toEqual([1, 5, 5, 15]);
  });

  it('is rounded down where rounding up would pass the latest time', () => {
    expect(settable(699, 700)).toBe(690);
    expect(settable(699, 705)).toBe(705);
  });

  it('is said as mm:ss, with a tenth only below 10 s', () => {
    expect([4.26, 65.4, 3725].map(clock)).toEqual(['00:04.3', '01:05', '62:05']);
  });
});
