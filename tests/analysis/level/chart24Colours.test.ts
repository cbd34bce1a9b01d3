import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { CHART_24_COLOURS } from '../../../analysis/level/chart24Colours.ts';
import { numbers, table } from '../../reference/table.ts';

// Source: tests/reference/colorchecker24.csv, see SOURCES.md there: CIELAB D50 2° of both editions.
const rows = table('colorchecker24.csv').slice(0, 18);

describe('the 24-patch chart’s colours', () => {
  it('are patches 1 to 18', () => {
    expect([...CHART_24_COLOURS.keys()]).toEqual(rows.map((row) => row.no));
  });

  // D50 to D65 worked out by colorjs.io, which shares no code with the analysis. Its D50 white has four decimals of
  // chromaticity, and blue sky's b* differs by 0.02 between copies of the earlier edition: hence 0.001 of Y = 1.
  it.each(rows.map((row) => [row.no, row.name, row] as const))(
    'has for patch %s, %s, the mean of both editions as XYZ under D65 within 0.001',
    (no, _name, row) => {
      const before = numbers(row, 'L_before2014', 'a_before2014', 'b_before2014');
      const after = numbers(row, 'L_after2014', 'a_after2014', 'b_after2014');
      const [L, a, b] = before.map((value, i) => (value + after[i]) / 2);
      const expected = new Color('lab', [L, a, b]).to('xyz-d65').coords;
      CHART_24_COLOURS.get(no)!.forEach((value, i) => {
        expect(Math.abs(value - Number(expected[i]))).toBeLessThan(0.001);
      });
    },
  );
});
