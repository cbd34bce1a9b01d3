import { describe, expect, it } from 'vitest';
import { labToXyz, xyzToLab } from '../../../analysis/colour/lab.ts';
import { lightnessFromY, lightnessPerY, yFromLightness } from '../../../analysis/colour/lightness.ts';
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

  it('its slope is that of its own values, 0.1 % around, on both sides of the joint', () => {
    for (const Y of [1e-4, 0.005, 0.02, 0.18, 0.9]) {
      const slope = (lightnessFromY(1.001 * Y) - lightnessFromY(0.999 * Y)) / (0.002 * Y);
      expect(lightnessPerY(Y) / slope).toBeCloseTo(1, 5);
    }
  });

  it('is the L* of the whole formula for a grey [culori]', () => {
    for (const Y of [-0.001, 0, 0.0088, 0.009, 0.3, 1.2]) {
      expect(lightnessFromY(Y)).toBe(xyzToLab([0, Y, 0]).L);
      expect(yFromLightness(lightnessFromY(Y))).toBeCloseTo(Y, 14);
    }
    for (const L of [-1, 0, 7.9, 8.1, 50, 104])
      expect(yFromLightness(L)).toBe(labToXyz({ L, a: 0, b: 0 })[1]);
  });
});
