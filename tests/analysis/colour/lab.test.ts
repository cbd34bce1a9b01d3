import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { type Lab, labToXyz, type Xyz, xyzToLab } from '../../../analysis/colour/lab.ts';
import { labToLabD50 } from '../../../analysis/colour/labD50.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';

const triples = table('srgb_lab_check.csv');

function expectLab(actual: Lab, [L, a, b]: readonly number[], within: number) {
  expect(Math.abs(actual.L - L)).toBeLessThanOrEqual(within);
  expect(Math.abs(actual.a - a)).toBeLessThanOrEqual(within);
  expect(Math.abs(actual.b - b)).toBeLessThanOrEqual(within);
}

describe('CIELAB under D65', () => {
  // Source: tests/reference/srgb_lab_check.csv, own arithmetic confirmed by colorjs.io; XYZ printed with 8 decimals.
  it('gives the Lab of 31 sRGB triples within 0.0005', () => {
    expect(triples).toHaveLength(31);
    for (const row of triples) {
      const xyz = numbers(row, 'X_D65', 'Y_D65', 'Z_D65') as unknown as Xyz;
      expectLab(xyzToLab(xyz), numbers(row, 'L_D65', 'a_D65', 'b_D65'), 5e-4);
    }
  });

  // Source: colorjs.io, an independent library.
  it('agrees with colorjs.io within 1e-6 on an even grid of XYZ, dark and out of every gamut included', () => {
    for (const X of [0, 0.002, 0.2, 0.7, 1.3]) {
      for (const Y of [0, 0.003, 0.3, 1, 1.2]) {
        for (const Z of [0, 0.004, 0.4, 1.1, 1.6]) {
          const reference = new Color('xyz-d65', [X, Y, Z]).to('lab-d65').coords as number[];
          expectLab(xyzToLab([X, Y, Z]), reference, tolerance.labDoubles);
        }
      }
    }
  });

  it('puts the white of D65 at L* 100, a* 0, b* 0', () => {
    expectLab(xyzToLab([0.3127 / 0.329, 1, 0.3583 / 0.329]), [100, 0, 0], tolerance.labDoubles);
  });

  // Source: CIE 15, straight part: L* = 24389/27 · Y for small Y, also below zero.
  it('keeps on straight below zero light: Y -0.001 is L* -0.9033', () => {
    const lab = xyzToLab([-0.001, -0.001, -0.002]);
    expect(lab.L).toBeCloseTo(-0.903296, 6);
    expect(Number.isFinite(lab.a) && Number.isFinite(lab.b)).toBe(true);
  });

  it('comes back from Lab to the same XYZ within 1e-12', () => {
    for (const xyz of [
      [0.1, 0.2, 0.3],
      [0.001, 0.002, 0.0005],
      [1.2, 1, 0.1],
      [-0.002, 0.001, 0.3],
    ] as Xyz[]) {
      const back = labToXyz(xyzToLab(xyz));
      for (let i = 0; i < 3; i++) expect(Math.abs(back[i] - xyz[i])).toBeLessThan(1e-12);
    }
  });
});

describe('CIELAB for D50', () => {
  // Source: tests/reference/srgb_lab_check.csv, columns L/a/b_D50_bradford, own, with the whites of CSS Color 4.
  it('gives the D50 Lab of 31 sRGB triples within 0.0005', () => {
    for (const row of triples) {
      const [L, a, b] = numbers(row, 'L_D65', 'a_D65', 'b_D65');
      expectLab(
        labToLabD50({ L, a, b }),
        numbers(row, 'L_D50_bradford', 'a_D50_bradford', 'b_D50_bradford'),
        5e-4,
      );
    }
  });

  // Source: the same file, columns L/a/b_lcms: Little CMS through its own sRGB profile, 16-bit fixed point.
  it('stays within 0.01 of Little CMS', () => {
    for (const row of triples) {
      const [L, a, b] = numbers(row, 'L_D65', 'a_D65', 'b_D65');
      expectLab(
        labToLabD50({ L, a, b }),
        numbers(row, 'L_lcms', 'a_lcms', 'b_lcms'),
        tolerance.labFixedPoint,
      );
    }
  });

  it('keeps a neutral neutral', () => {
    expectLab(labToLabD50({ L: 49.5, a: 0, b: 0 }), [49.5, 0, 0], tolerance.labDoubles);
  });
});
