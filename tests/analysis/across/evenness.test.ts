import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Evenness, readEvenness, type SheetCell } from '../../../analysis/across/evenness.ts';
import { evenWindow, largestEvenArea, toleranceStops } from '../../../analysis/across/usableArea.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { notFinite } from './finite.ts';
import { INDIGO, knownCurve, knownL } from './knownCurve.ts';
import { normals } from './noise.ts';

const curve = knownCurve(INDIGO);
const recorded = { curve, set: bootstrapCurve(curve, { count: 50 }) };
const invalid = expect.objectContaining({ code: 'comparison-invalid' });

/** A sheet of known dose: `dose(x, y)` relative, x and y from −1 to 1, around 160 s, where indigo is 61 % deep. */
function sheet(
  dose: (x: number, y: number) => number,
  { rows = 9, columns = 12, uL = 0.1, seed = 0 } = {},
): SheetCell[][] {
  const normal = normals(seed + 1);
  return Array.from({ length: rows }, (_, r) =>
    Array.from({ length: columns }, (_, c) => {
      const relative = dose((2 * c) / (columns - 1) - 1, (2 * r) / (rows - 1) - 1);
      return { L: knownL(INDIGO, 160 * relative) + (seed > 0 ? uL * normal() : 0), uL };
    }),
  );
}

function mapOf(evenness: Evenness) {
  if (evenness.kind !== 'map') throw new Error(evenness.sentence);
  return evenness;
}

describe('readEvenness on sheets of known dose', () => {
  test('an even sheet is even, wholly usable, with a dose ratio of 1', () => {
    const map = mapOf(
      readEvenness(
        sheet(() => 1),
        recorded,
      ),
    );
    expect(map.pattern.code).toBe('even');
    expect(map.usableShare.value).toBe(1);
    expect(map.usableArea).toEqual({ row: 0, column: 0, rows: 9, columns: 12 });
    expect(map.doseRatio.value).toBeCloseTo(1, 6);
    expect(map.sentence).toContain('the whole sheet can be used');
  });

  test('gives back the doses of a field of second order in stops within 1e-6', () => {
    const stops = (x: number, y: number) => 0.2 * x - 0.15 * y * y + 0.1 * x * y;
    const map = mapOf(
      readEvenness(
        sheet((x, y) => 2 ** stops(x, y)),
        recorded,
      ),
    );
    expect(map.basis).toBe('smooth');
    map.relativeDose.forEach((row, r) => {
      row.forEach((dose, c) => {
        const expected = 2 ** (stops((2 * c) / 11 - 1, r / 4 - 1) - stops(-1, -1));
        expect((dose ?? 0) / (map.relativeDose[0][0] ?? 1)).toBeCloseTo(expected, 6);
      });
    });
  });

  test('a left side 30 % low is found, with a dose ratio of 1.43', () => {
    const map = mapOf(
      readEvenness(
        sheet((x) => 0.85 + 0.15 * x, { seed: 3 }),
        recorded,
      ),
    );
    expect(map.pattern).toMatchObject({ code: 'one-side-low', where: 'left side' });
    expect(map.doseRatio.value).toBeCloseTo(1 / 0.7, 1);
    expect(map.doseRatio.low).toBeLessThanOrEqual(map.doseRatio.value ?? 0);
    expect(map.doseRatio.high).toBeGreaterThanOrEqual(map.doseRatio.value ?? 0);
    const left = map.regions.find((region) => region.name === 'left');
    expect(left?.doseRatio).toBeLessThan(0.95);
  });

  test.each([
    ['top side', (_x: number, y: number) => 1 + 0.15 * y],
    ['right side', (x: number) => 1 - 0.15 * x],
    ['bottom right side', (x: number, y: number) => 1 - 0.1 * x - 0.1 * y],
  ])('the low side is named: %s', (where, dose) => {
    expect(mapOf(readEvenness(sheet(dose, { seed: 4 }), recorded)).pattern).toMatchObject({
      code: 'one-side-low',
      where,
    });
  });

  // Eight bare tubes at h = s: centre 100, two spacings out 95, three 84, last tube 74 % (computed, sum h/(h² + x²)).
  test('the fall of eight tubes at one spacing is low edges left and right, and the middle half is usable', () => {
    const across = (x: number) =>
      Array.from({ length: 8 }, (_, tube) => tube - 3.5).reduce(
        (sum, at) => sum + 1 / (1 + (3.5 * x - at) ** 2),
        0,
      );
    expect(across(1) / across(0)).toBeCloseTo(0.74, 1);
    const map = mapOf(
      readEvenness(
        sheet((x) => across(x) / across(0), { seed: 5, rows: 6, columns: 16 }),
        recorded,
      ),
    );
    expect(map.pattern).toMatchObject({ code: 'edges-low', where: 'left and right edges' });
    expect(map.pattern.text).toContain('side reflectors');
    expect(map.usableArea?.rows).toBe(6);
    expect(map.usableArea?.columns).toBeGreaterThanOrEqual(8);
    expect(map.usableArea?.columns).toBeLessThan(16);
  });

  test('a low middle is told from low edges', () => {
    const map = mapOf(
      readEvenness(
        sheet((x, y) => 0.85 + 0.1 * (x * x + y * y), { seed: 6 }),
        recorded,
      ),
    );
    expect(map.pattern).toMatchObject({ code: 'middle-low', where: 'all edges' });
  });

  test('a failing tube shows as one low band at column 5', () => {
    const map = mapOf(
      readEvenness(
        sheet((x) => (Math.abs(x - -3 / 11) < 0.05 ? 0.85 : 1), { seed: 7 }),
        recorded,
      ),
    );
    expect(map.pattern).toMatchObject({ code: 'one-band-low', where: 'column 5' });
    expect(map.basis).toBe('cells');
  });

  // Bare tubes at half a spacing ripple by 17 % (computed); the sheet has four cells per spacing.
  test('a bed too near to its tubes shows as bands along the columns', () => {
    const row = (x: number) =>
      Array.from({ length: 41 }, (_, tube) => tube - 20).reduce(
        (sum, at) => sum + 0.5 / (0.25 + (2 * x - at) ** 2),
        0,
      );
    const [peak, valley] = [row(0), row(0.25)];
    expect((peak - valley) / ((peak + valley) / 2)).toBeCloseTo(0.17, 1);
    const map = mapOf(
      readEvenness(
        sheet((x) => row(x) / peak, { seed: 8, columns: 17 }),
        recorded,
      ),
    );
    expect(map.pattern).toMatchObject({ code: 'bands', where: 'columns' });
    expect(map.pattern.text).toContain('as far from the tubes as they are from each other');
  });

  test('one dark corner is named', () => {
    const dose = (x: number, y: number) => (x > 0.6 && y > 0.4 ? 0.8 : 1);
    expect(mapOf(readEvenness(sheet(dose, { seed: 9 }), recorded)).pattern).toMatchObject({
      code: 'corner-low',
      where: 'bottom right',
    });
  });

  test('an even sheet read with ±0.5 L* is called even in at least 95 of 100 readings', () => {
    let even = 0;
    for (let seed = 100; seed < 200; seed++) {
      const map = mapOf(
        readEvenness(
          sheet(() => 1, { uL: 0.5, seed }),
          { curve, set: { seed: 1, shapes: [] } },
        ),
      );
      if (map.pattern.code === 'even') even++;
    }
    expect(even).toBeGreaterThanOrEqual(95);
  });

  test('mirroring the sheet mirrors the side and keeps the share', () => {
    const cells = sheet((x, y) => 1 + 0.2 * x + 0.02 * y, { seed: 10 });
    const one = mapOf(readEvenness(cells, recorded));
    const other = mapOf(
      readEvenness(
        cells.map((row) => [...row].reverse()),
        recorded,
      ),
    );
    expect(one.pattern.where).toBe('left side');
    expect(other.pattern.where).toBe('right side');
    expect(other.usableShare.value).toBeCloseTo(one.usableShare.value ?? 0, 9);
  });

  test('only the form of the curve matters: a light twice as strong maps the same', () => {
    const cells = sheet((x) => 1 + 0.1 * x, { seed: 11 });
    const slower = knownCurve({ ...INDIGO, halfSeconds: 240 });
    const map = mapOf(readEvenness(cells, recorded));
    const other = mapOf(readEvenness(cells, { curve: slower, set: { seed: 1, shapes: [slower.shape] } }));
    expect(other.relativeDose[4][2]).toBeCloseTo(map.relativeDose[4][2] ?? 0, 6);
  });
});

test('a sheet at full depth or hardly exposed is not readable, and says what to change', () => {
  const deep = readEvenness(
    sheet(() => 20),
    recorded,
  );
  expect(deep).toMatchObject({ kind: 'not-readable', tooDeep: 108, tooPale: 0 });
  expect(deep.sentence).toContain('half the time');
  const pale = readEvenness(
    sheet(() => 0.05),
    recorded,
  );
  expect(pale).toMatchObject({ kind: 'not-readable', tooPale: 108 });
  expect(pale.sentence).toContain('twice the time');
});

test('never throws or gives NaN on any readable grid, missing cells among them', () => {
  const cell = fc.option(
    fc.record({
      L: fc.double({ min: 20, max: 95, noNaN: true }),
      uL: fc.double({ min: 0.05, max: 5, noNaN: true }),
    }),
    { freq: 12 },
  );
  const few = { curve, set: { seed: 1, shapes: recorded.set.shapes.slice(0, 3) } };
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 9 }).chain((columns) =>
        fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), {
          minLength: 3,
          maxLength: 9,
        }),
      ),
      fc.constantFrom(2, 10, 30),
      (cells, tolerancePercent) => {
        expect(notFinite(readEvenness(cells, few, { tolerancePercent }))).toEqual([]);
      },
    ),
    { numRuns: 200 },
  );
});

describe('usable area', () => {
  test('±10 % is 0.29 stop from end to end', () => {
    expect(toleranceStops(10)).toBeCloseTo(Math.log2(1.1 / 0.9), 12);
  });

  test('of a 4 × 5 grid with one bad cell is the 4 × 3 beside it', () => {
    const grid = [
      [0, 0, 0, 0, 0],
      [0, 1, 0, 0, 0],
      [0, 0, 0, 0, 0],
      [0, 0, 0, 0, 0],
    ];
    expect(largestEvenArea(grid, 10)).toEqual({ row: 0, column: 2, rows: 4, columns: 3 });
  });

  test('leaves missing cells out, and of equal rectangles takes the more central', () => {
    expect(
      largestEvenArea(
        [
          [null, null],
          [null, 0],
        ],
        10,
      ),
    ).toEqual({ row: 1, column: 1, rows: 1, columns: 1 });
    expect(largestEvenArea([[null]], 10)).toBeNull();
    expect(largestEvenArea([[0, 1, 2, 3, 4]], 10)).toEqual({ row: 0, column: 2, rows: 1, columns: 1 });
  });

  test('is as large as trying every rectangle finds, and holds to the tolerance', () => {
    const value = fc.option(fc.double({ min: 0, max: 0.6, noNaN: true }), { freq: 9 });
    const grid = fc
      .integer({ min: 1, max: 6 })
      .chain((columns) =>
        fc.array(fc.array(value, { minLength: columns, maxLength: columns }), { minLength: 1, maxLength: 6 }),
      );
    fc.assert(
      fc.property(grid, (stops) => {
        let most = 0;
        const [rows, columns] = [stops.length, stops[0].length];
        for (let r = 0; r < rows; r++)
          for (let c = 0; c < columns; c++)
            for (let h = 1; r + h <= rows; h++)
              for (let w = 1; c + w <= columns; w++) {
                const inside = stops.slice(r, r + h).flatMap((row) => row.slice(c, c + w));
                if (inside.some((v) => v === null)) continue;
                const doses = inside.map((v) => 2 ** (v ?? 0));
                const middle = (Math.max(...doses) + Math.min(...doses)) / 2;
                if (Math.max(...doses) <= middle * 1.1 * (1 + 1e-9)) most = Math.max(most, h * w);
              }
        const area = largestEvenArea(stops, 10);
        expect(area === null ? 0 : area.rows * area.columns).toBe(most);
      }),
    );
  });

  test('the window takes the dose around which most cells lie', () => {
    const window = evenWindow([0, 0.1, 0.2, 2, 2.1], 10);
    expect(window.count).toBe(3);
    expect(window.middleStops).toBeCloseTo(Math.log2((1 + 2 ** 0.2) / 2), 12);
  });
});

test.each([
  [
    'two rows',
    [
      [null, null, null],
      [null, null, null],
    ],
    {},
  ],
  [
    'ragged rows',
    [
      [null, null, null],
      [null, null, null],
      [null, null],
    ],
    {},
  ],
  ['an uncertainty of 0', Array(3).fill(Array(3).fill({ L: 50, uL: 0 })), {}],
  ['a tolerance of 0 %', sheet(() => 1), { tolerancePercent: 0 }],
])('refuses a sheet with %s', (_, cells, options) => {
  expect(() => readEvenness(cells, recorded, options)).toThrowError(invalid);
});
