import { describe, expect, it } from 'vitest';
import { ksFromReflectance, reflectanceFromKs } from '../../../analysis/colour/kubelkaMunk.ts';
import { numbers, table } from '../../reference/table.ts';

const rows = table('kubelka_munk.csv');

describe('Kubelka–Munk', () => {
  // Source: tests/reference/kubelka_munk.csv, exact fractions.
  it('gives the tabulated K/S of 12 reflectances within 1e-10 of its size', () => {
    const given = rows.filter(({ direction }) => direction === 'R_to_KS');
    expect(given).toHaveLength(12);
    for (const row of given) {
      const [R, ks] = numbers(row, 'R', 'KoverS');
      expect(Math.abs(ksFromReflectance(R) - ks)).toBeLessThanOrEqual(1e-10 * Math.max(1, ks));
    }
  });

  it('gives the tabulated reflectance of 14 K/S within 1e-12', () => {
    const given = rows.filter(({ direction }) => direction === 'KS_to_R');
    expect(given).toHaveLength(14);
    for (const row of given) {
      const [R, ks] = numbers(row, 'R', 'KoverS');
      expect(Math.abs(reflectanceFromKs(ks) - R)).toBeLessThanOrEqual(1e-12);
    }
  });

  // R ≈ 1/(2k) for large k; the textbook form gives 0 at 1e8 in doubles.
  it('keeps its digits at K/S 1e8 and 1e200', () => {
    expect(reflectanceFromKs(1e8) * 2e8).toBeCloseTo(1, 7);
    expect(reflectanceFromKs(1e200) * 2e200).toBeCloseTo(1, 7);
  });

  it('has K/S 0 at and above white, none finite at and below black', () => {
    expect(ksFromReflectance(1.03)).toBe(0);
    expect(ksFromReflectance(0)).toBe(Number.POSITIVE_INFINITY);
    expect(reflectanceFromKs(-0.1)).toBe(1);
  });
});
