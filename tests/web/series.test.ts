import { describe, expect, it } from 'vitest';
import { seriesOf } from '../../web/series.ts';

describe('seriesOf', () => {
  it('makes half stops from 8 s: 8, 11.31, 16, 22.63 … to a tenth below 10 s and whole seconds above', () => {
    // tests/reference/fstop_time_sequences.csv: half-stop times, exact by 8·2^(i/2)
    expect(seriesOf(8, 'half-stop', 8, false)).toEqual([8, 11, 16, 23, 32, 45, 64, 91]);
  });

  it('makes third stops from 4 min: 762 s (12:42) is the sixth, not 13:42', () => {
    // 240·2^(5/3) = 761.95 s by definition of a third stop; a published table misprints it as 13:42
    expect(seriesOf(240, 'third-stop', 6, false)[5]).toBe(762);
  });

  it('makes equal times as multiples of the first, the base before them: 0, 2, 4, 6, 8 s', () => {
    // training-manual example of an arithmetic strip: 2, 4, 6, 8 s; common practice
    expect(seriesOf(2, 'equal-times', 4, true)).toEqual([0, 2, 4, 6, 8]);
  });

  it('keeps tenths below 10 s: whole stops from 1.5 s give 1.5, 3, 6, 12', () => {
    expect(seriesOf(1.5, 'whole-stop', 4, false)).toEqual([1.5, 3, 6, 12]);
  });

  it('refuses a first time of 0 s', () => {
    expect(() => seriesOf(0, 'whole-stop', 4, true)).toThrow(/above 0 s/);
  });
});
