import { diff } from 'color-diff';
import { describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';

const pairs = table('ciede2000_sharma.csv').map((row) => {
  const [L1, a1, b1, L2, a2, b2, dE00] = numbers(row, 'L1', 'a1', 'b1', 'L2', 'a2', 'b2', 'dE00');
  return { one: { L: L1, a: a1, b: b1 }, other: { L: L2, a: a2, b: b2 }, dE00 };
});

describe('CIEDE2000', () => {
  // Source: Sharma, Wu and Dalal 2005, table 1, 34 pairs.
  it('gives all 34 published pairs within 0.00005', () => {
    expect(pairs).toHaveLength(34);
    for (const { one, other, dE00 } of pairs) {
      expect(Math.abs(deltaE00(one, other) - dE00)).toBeLessThanOrEqual(tolerance.deltaE00Printed);
    }
  });

  it('is the same either way round and 0 for a colour against itself', () => {
    for (const { one, other } of pairs) {
      expect(deltaE00(one, other)).toBeCloseTo(deltaE00(other, one), 12);
      expect(deltaE00(one, one)).toBe(0);
    }
  });

  // Source: color-diff, an independent library.
  it('agrees with color-diff within 1e-9 on dyed-cloth colours', () => {
    const cloth = [
      { L: 94, a: 0.5, b: 3 },
      { L: 62, a: -6, b: -22 },
      { L: 31, a: 4, b: -38 },
      { L: 18, a: 9, b: -30 },
    ];
    for (const one of cloth) {
      for (const other of cloth) {
        const reference = diff({ L: one.L, a: one.a, b: one.b }, { L: other.L, a: other.a, b: other.b });
        expect(Math.abs(deltaE00(one, other) - reference)).toBeLessThan(1e-9);
      }
    }
  });
});
