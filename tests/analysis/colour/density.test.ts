import { describe, expect, it } from 'vitest';
import { densityFromY, yFromDensity } from '../../../analysis/colour/density.ts';
import { lightnessFromY } from '../../../analysis/colour/lightness.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';

describe('visual reflectance density', () => {
  // Source: tests/reference/density_lstar.csv: ISO 5-4's definition and CIE 15, own, 4 decimals.
  it('runs beside reflectance and L* as tabulated from density 0 to 2', () => {
    const rows = table('density_lstar.csv');
    expect(rows.length).toBeGreaterThan(20);
    for (const row of rows) {
      const [density, reflectance, L] = numbers(row, 'density', 'reflectance', 'Lstar');
      expect(Math.abs(yFromDensity(density) - reflectance)).toBeLessThan(tolerance.fourDecimals);
      expect(Math.abs(lightnessFromY(yFromDensity(density)) - L)).toBeLessThan(tolerance.fourDecimals);
      expect(densityFromY(yFromDensity(density))).toBeCloseTo(density, 12);
    }
  });

  // Source: -log10 of the reflectance, three decimals as in densitometry tables.
  it.each([
    [0.9, 0.046],
    [0.18, 0.745],
    [0.05, 1.301],
    [0.01, 2],
  ])('reads Y %f as density %f', (Y, density) => {
    expect(densityFromY(Y)).toBeCloseTo(density, 3);
  });

  it('has no finite density for no light', () => {
    expect(densityFromY(0)).toBe(Number.POSITIVE_INFINITY);
    expect(densityFromY(-0.01)).toBe(Number.POSITIVE_INFINITY);
  });
});
