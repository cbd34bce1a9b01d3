import { describe, expect, it } from 'vitest';
import { lightnessFromY, yFromLightness } from '../../../analysis/colour/lightness.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';

const rows = table('lstar.csv');

describe('L* and luminous reflectance', () => {
  // Source: tests/reference/lstar.csv: CIE 15 with exact constants, 50 digits; two rows published by colour-science.
  it('gives the tabulated L* from Y within 1e-8', () => {
    const given = rows.filter(({ kind }) => kind === 'Y_to_L');
    expect(given.length).toBeGreaterThan(20);
    for (const row of given) {
      const [percent, L] = numbers(row, 'Y_percent', 'Lstar');
      expect(Math.abs(lightnessFromY(percent / 100) - L)).toBeLessThan(1e-8);
    }
  });

  it('gives the tabulated Y from L* within 1e-10', () => {
    const given = rows.filter(({ kind }) => kind === 'L_to_Y');
    expect(given.length).toBeGreaterThan(12);
    for (const row of given) {
      const [percent, L] = numbers(row, 'Y_percent', 'Lstar');
      expect(Math.abs(yFromLightness(L) - percent / 100)).toBeLessThan(tolerance.tenDecimals);
    }
  });

  it('uses the exact constants: the old rounded ones would be off by 3e-5 at the joint', () => {
    const joint = 216 / 24389;
    expect(lightnessFromY(joint)).toBeCloseTo(8, 10);
    expect(lightnessFromY(joint * (1 + 1e-9)) - lightnessFromY(joint * (1 - 1e-9))).toBeLessThan(1e-7);
  });
});
