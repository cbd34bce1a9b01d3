import { describe, expect, it } from 'vitest';
import { bradford } from '../../../analysis/colour/adaptation.ts';
import type { Xyz } from '../../../analysis/colour/lab.ts';
import { applyMatrix3, inverseMatrix3 } from '../../../analysis/colour/matrix3.ts';
import { whiteD50, whiteD65 } from '../../../analysis/colour/white.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';

const whites = new Map(
  table('cie_white_points.csv')
    .filter(({ definition }) => definition.startsWith('ASTM E308-01'))
    .map((row) => [row.illuminant, numbers(row, 'X', 'Y', 'Z') as unknown as Xyz]),
);

function expectMatrix(actual: readonly number[], row: Readonly<Record<string, string>>, within: number) {
  const wanted = numbers(row, 'm11', 'm12', 'm13', 'm21', 'm22', 'm23', 'm31', 'm32', 'm33');
  for (let i = 0; i < 9; i++) expect(Math.abs(actual[i] - wanted[i])).toBeLessThanOrEqual(within);
}

const matrices = table('cat_worked_examples.csv').filter(({ method }) => method === 'Bradford');

describe('Bradford adaptation', () => {
  // Source: Lindbloom's table of adaptation matrices, 7 decimals, ASTM E308-01 whites.
  it('gives Lindbloom’s eight matrices to all 7 decimals', () => {
    const published = matrices.filter((row) => row.white_definition === 'ASTM E308-01');
    expect(published.length).toBeGreaterThanOrEqual(8);
    for (const row of published) {
      const actual = bradford(whites.get(row.source_white)!, whites.get(row.dest_white)!);
      expectMatrix(actual, row, tolerance.sevenDecimals);
    }
  });

  // Source: CSS Color 4, as in color.js.
  it('gives CSS Color 4’s D65 to D50 matrix within 1e-15', () => {
    const row = matrices.find(({ white_definition }) => white_definition.includes('CSS Color 4'))!;
    expectMatrix(bradford(whiteD65, whiteD50), row, 1e-15);
  });

  // Source: colour-science's test_vonkries.py.
  it('turns a published colour of D65 into its D50 colour within 1e-8', () => {
    const rows = table('cat_colour_examples.csv').filter(
      ({ method, origin }) => method === 'Bradford' && origin.startsWith('colour-science'),
    );
    expect(rows).toHaveLength(1);
    const [row] = rows;
    const from = numbers(row, 'src_X', 'src_Y', 'src_Z') as unknown as Xyz;
    const to = numbers(row, 'dst_X', 'dst_Y', 'dst_Z') as unknown as Xyz;
    const colour = applyMatrix3(bradford(from, to), numbers(row, 'X', 'Y', 'Z') as unknown as Xyz);
    const wanted = numbers(row, 'out_X', 'out_Y', 'out_Z');
    for (let i = 0; i < 3; i++) expect(Math.abs(colour[i] - wanted[i])).toBeLessThan(1e-8);
  });

  it('puts white on white, and there and back is no change', () => {
    const there = bradford(whiteD65, whiteD50);
    const white = applyMatrix3(there, whiteD65);
    for (let i = 0; i < 3; i++) expect(white[i]).toBeCloseTo(whiteD50[i], 12);
    const back = inverseMatrix3(there);
    const again = bradford(whiteD50, whiteD65);
    for (let i = 0; i < 9; i++) expect(back[i]).toBeCloseTo(again[i], 12);
  });
});
