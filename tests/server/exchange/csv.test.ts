import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lightnessAt } from '../../../analysis/curve/evaluate.ts';
import { csvText, harmlessText } from '../../../server/exchange/csvText.ts';
import { curveCsv } from '../../../server/exchange/curveCsv.ts';
import { stepsCsv } from '../../../server/exchange/stepsCsv.ts';
import { demoReading, renamed } from './demoReading.ts';

/** Read back by csv-parse, which knows nothing of how the text was made. */
const rowsOf = (csv: string): Record<string, string>[] =>
  parse(csv, { bom: true, columns: true, record_delimiter: '\r\n', relax_column_count: false });

const { reading } = await demoReading('hemp-banner-blue');

describe('steps as CSV', () => {
  const rows = rowsOf(stepsCsv(reading));

  test('has a row for each of the seven steps, base first', () => {
    expect(rows.map((row) => [row.step, row['exposure (s)']])).toEqual(
      [0, 60, 105, 180, 320, 560, 1000].map((seconds, i) => [String(i), String(seconds)]),
    );
  });

  test('holds every measured number of a step, unrounded', () => {
    const step = reading.steps[3];
    const row = Object.values(rows[3]).map(Number);
    const { seconds, budget, clippedShare, ...others } = step;
    const measured = Object.values(others).filter((value) => typeof value === 'number');
    expect(measured).toHaveLength(14);
    for (const value of [seconds, 100 * clippedShare, ...Object.values(budget), ...measured])
      expect(row).toContain(value);
  });

  test('counts stops from the shortest exposed step: 105 s is log2(105/60) = 0.807 above 60 s', () => {
    expect(rows[0]['above shortest step (stops)']).toBe('');
    expect(Number(rows[1]['above shortest step (stops)'])).toBe(0);
    expect(Number(rows[2]['above shortest step (stops)'])).toBeCloseTo(0.8074, 4);
  });

  test('has budget parts whose squares add up to u squared', () => {
    for (const row of rows) {
      const parts = ['step', 'card', 'table light', 'camera tone'].map((p) =>
        Number(row[`u from ${p} (L*)`]),
      );
      expect(Math.hypot(...parts)).toBeCloseTo(Number(row['u (L*)']), 9);
    }
  });

  test('leaves empty what does not exist, and says verdicts', () => {
    expect(rows[0]['difference to step before (ΔE00)']).toBe('');
    expect(rows.at(-1)?.verdict).toBe('overexposed');
  });

  test('negative numbers stay numbers: only text is guarded', () => {
    expect(Number(rows[0]['a*'])).toBe(reading.steps[0].a);
    expect(reading.steps[0].a).toBeLessThan(0);
  });
});

describe('a curve as CSV', () => {
  const rows = rowsOf(curveCsv(reading) as string);
  const numbers = (name: string) => rows.map((row) => Number(row[name]));

  test('runs from no exposure to one stop beyond the longest step, 1000 s', () => {
    const seconds = numbers('exposure (s)');
    expect([seconds[0], seconds[1]]).toEqual([0, 30]);
    expect(seconds.at(-1)).toBeCloseTo(2000, 6);
    expect(seconds).toEqual(seconds.toSorted((a, b) => a - b));
    expect(seconds).toContain(60);
    expect(seconds.some((s) => Math.abs(s - 1000) < 1e-9)).toBe(true);
  });

  test("gives the curve's own L*, inside its 90 % interval", () => {
    if (reading.curve.kind !== 'fitted') throw new Error('no curve');
    const { curve } = reading.curve;
    for (const row of rows) {
      const L = Number(row['L*']);
      expect(L).toBe(lightnessAt(curve, Number(row['exposure (s)'])));
      expect(Number(row['L* low end of 90 % interval'])).toBeLessThan(L);
      expect(Number(row['L* high end of 90 % interval'])).toBeGreaterThan(L);
    }
  });

  test('says which samples lie on the strip: 0 s and 60 to 1000 s', () => {
    const on = rows.filter((row) => row['within the strip'] === 'yes').map((row) => row['exposure (s)']);
    expect(on.slice(0, 2)).toEqual(['0', '60']);
    expect(Number(on.at(-1))).toBeCloseTo(1000, 9);
  });

  test('is null where a strip of too few steps gave no curve', () => {
    const curve = { kind: 'too-few-steps', message: 'One step is too few.', points: [] } as const;
    expect(curveCsv({ ...reading, curve })).toBeNull();
  });
});

describe('text in a cell', () => {
  // The characters are those of OWASP's page on CSV injection (CWE-1236), from memory.
  test.each(['=1+1', '+cmd', '-2', '@SUM(A1)', '\tx', '\rx', '\n=x', ' =1', '＝1', '|calc'])(
    'never begins as a formula does: %j',
    (name) => {
      const [row] = rowsOf(stepsCsv(renamed(reading, name)));
      expect(row.dye).toBe(`'${name}`);
    },
  );

  test.each(['indigo', 'blue "deep", 2nd', 'línea de añil\nzweite Zeile', '藍 🟦', "d'azur", ''])(
    'comes back as it was: %j',
    (name) => {
      const [row] = rowsOf(stepsCsv(renamed(reading, name)));
      expect(row.dye).toBe(name);
    },
  );

  test('comes back for any text whatever, guarded or not', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.string({ unit: 'binary' }), fc.double()), { minLength: 1 }),
        (rows) => {
          const csv = csvText<(typeof rows)[number]>(
            [
              ['text', ([text]) => text],
              ['number', ([, number]) => number],
            ],
            rows,
          );
          expect(csv.startsWith('\uFEFF')).toBe(true);
          const back = rowsOf(csv);
          expect(back.map((row) => row.text)).toEqual(rows.map(([text]) => harmlessText(text)));
          expect(back.every(({ text }) => !/^[=+\-@\t\r]/.test(text))).toBe(true);
          expect(back.map((row) => Number(row.number))).toEqual(rows.map(([, number]) => number + 0));
        },
      ),
    );
  });
});
