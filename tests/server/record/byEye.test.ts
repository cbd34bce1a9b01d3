import { describe, expect, it } from 'vitest';
import { byEye } from '../../../server/record/byEye.ts';

const judgements = (paler: number, right: number, deeper: number) => [
  ...Array.from({ length: paler }, () => 'paler' as const),
  ...Array.from({ length: right }, () => 'right' as const),
  ...Array.from({ length: deeper }, () => 'deeper' as const),
];

describe('prints judged by eye', () => {
  // Critical values of the two-sided sign test at 10 %: the most on the lesser side of n. Counted out from Pascal's
  // triangle: twice the sum of C(n, 0..k) over 2^n, e.g. 2·(1 + 8)/256 = 7.0 % and 2·(1 + 8 + 28)/256 = 28.9 %.
  it.each([
    [5, 0],
    [7, 0],
    [8, 1],
    [11, 2],
    [13, 3],
    [16, 4],
  ])('of %i that missed lean where at most %i are on the lesser side', (n, least) => {
    expect(byEye(judgements(n - least, 0, least)).leans).toBe('paler');
    expect(byEye(judgements(least, 0, n - least)).leans).toBe('deeper');
    expect(byEye(judgements(n - least - 1, 0, least + 1)).leans).toBeNull();
  });

  it('do not lean with four of four: chance alone shows that once in eight', () => {
    expect(byEye(judgements(4, 0, 0)).leans).toBeNull();
  });

  it('do not lean where 6 of 15 came out paler and 9 as promised, and do where it is 6 of 8', () => {
    expect(byEye(judgements(6, 9, 0))).toEqual({ paler: 6, right: 9, deeper: 0, leans: null });
    expect(byEye(judgements(6, 2, 0)).leans).toBe('paler');
  });

  it('say nothing where there are none, and hold to it with 500', () => {
    expect(byEye([])).toEqual({ paler: 0, right: 0, deeper: 0, leans: null });
    expect(byEye(judgements(250, 0, 250)).leans).toBeNull();
    expect(byEye(judgements(300, 0, 200)).leans).toBe('paler');
  });
});
