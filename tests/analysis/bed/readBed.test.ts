import { beforeAll, describe, expect, test } from 'vitest';
import { parseBedMarks } from '../../../analysis/bedMarks.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { KNOWN_CARDS } from '../../../analysis/level/cards.ts';
import { type BedOptions, type BedReading, readBed } from '../../../analysis/readBed.ts';
import { notFinite } from '../across/finite.ts';
import { INDIGO, knownCurve, knownL } from '../across/knownCurve.ts';
import { type PaintedBed, paintedBed } from './paintedBed.ts';

const curve = knownCurve(INDIGO);
const recorded = { curve, set: bootstrapCurve(curve, { count: 60 }) };
const card = KNOWN_CARDS['white-grey-black'];
const grid = { rows: 5, columns: 6 } as const;

const read = async (beds: readonly PaintedBed[], options: BedOptions = grid): Promise<BedReading> => {
  const photos = await Promise.all(
    beds.map(async (bed) => {
      const { bytes, marks } = await paintedBed(bed);
      return { bytes, marks: parseBedMarks(marks) };
    }),
  );
  const [first, ...others] = photos;
  return readBed([first, ...others], card, recorded, options);
};
const mapOf = ({ evenness }: BedReading) => {
  if (evenness.kind !== 'map') throw new Error(evenness.sentence);
  return evenness;
};

/** A lamp 30 % weaker on the right; a table light that falls by a third to the left. */
const tilted = (across: number) => 1.15 - 0.3 * across;
const tableLight = (across: number, down: number) => 0.85 + 0.18 * across - 0.05 * down ** 2;

describe('a sheet under a lamp 30 % weaker on the right, on a table lit a third weaker on the left', () => {
  let one: BedReading;
  let both: BedReading;
  beforeAll(async () => {
    one = await read([{ dose: tilted, light: tableLight }]);
    both = await read([
      { dose: tilted, light: tableLight },
      { dose: tilted, light: tableLight, turned: true, seed: 2 },
    ]);
  }, 60_000);

  test('is found low on the right: its third gets 0.818 of the light of the left third, read as 0.79 to 0.86', () => {
    const map = mapOf(one);
    expect(map.pattern).toMatchObject({ code: 'one-side-low', where: 'right side' });
    const left = map.regions.find(({ name }) => name === 'left')?.doseRatio ?? 0;
    const right = map.regions.find(({ name }) => name === 'right')?.doseRatio ?? 0;
    // Two of six columns each: doses of 1.125 and 1.075 on the left, 0.925 and 0.875 on the right.
    expect(right / left).toBeGreaterThan(0.79);
    expect(right / left).toBeLessThan(0.86);
  });

  test('tells L* of every cell within 1.5 of the truth, and the dose within 2.5 of its own uncertainty', () => {
    const map = mapOf(one);
    const truth = map.relativeDose.map((row) => row.map((_, c) => tilted((c + 0.5) / grid.columns)));
    const middle = truth.flat().reduce((sum, dose) => sum + dose, 0) / truth.flat().length;
    one.cells.forEach((row, r) => {
      row.forEach(({ L }, c) => {
        expect(Math.abs(L - knownL(INDIGO, 120 * truth[r][c]))).toBeLessThan(1.5);
      });
    });
    const read = map.relativeDose.flat().map((dose) => dose ?? Number.NaN);
    const mean = read.reduce((sum, dose) => sum + dose, 0) / read.length;
    read.forEach((dose, k) => {
      const u = map.relativeU.flat()[k] ?? 0;
      expect(Math.abs(dose / mean - truth.flat()[k] / middle)).toBeLessThan(2.5 * Math.max(u, 0.01));
    });
  });

  test('photographed once more turned end for end leaves less of the photo’s own light open', () => {
    const [single, double] = [mapOf(one).openPercent, mapOf(both).openPercent];
    expect(double?.across).toBeLessThan(0.95 * (single?.across ?? 0));
    expect(double?.down).toBeLessThan(0.95 * (single?.down ?? 0));
    expect(mapOf(both).pattern).toMatchObject({ code: 'one-side-low', where: 'right side' });
    expect(both.repeatability?.photos).toBe(2);
  });

  test('is plain data: no number in it that is not finite', () => {
    expect(notFinite(one)).toEqual([]);
  });
});

test('an even lamp is not called uneven for a table light that falls by 30 %: ratio of doses below 1.15', async () => {
  const map = mapOf(await read([{ dose: () => 1, light: tableLight }]));
  expect(['even', 'not-separable']).toContain(map.pattern.code);
  expect(map.doseRatio.value).toBeLessThan(1.15);
}, 30_000);

test('with table on one side only, what the photo leaves open is too much: lamp and photo are not told apart', async () => {
  const map = mapOf(await read([{ dose: tilted, light: tableLight, marginPx: 0 }]));
  expect(map.pattern.code).toBe('not-separable');
  expect(map.openPercent?.across).toBeGreaterThan(15);
  expect(map.openPercent?.down).toBeLessThan(10);
  expect(map.sentence).toContain('turned end for end');
}, 30_000);

test('without a table to be seen around the sheet the map is withheld, and says what to do', async () => {
  const reading = await read([{ dose: tilted, light: tableLight, filling: true }]);
  expect(reading.evenness.kind).toBe('light-unknown');
  expect(reading.evenness.sentence).toContain('all round it');
  expect(reading.cells.flat()).toHaveLength(30);
}, 30_000);

test('a sheet too deep for the recorded curve is not mapped: expose half as long', async () => {
  const { evenness } = await read([{ dose: () => 1, seconds: 1500 }], { rows: 3, columns: 3 });
  expect(evenness.kind).toBe('not-readable');
  expect(evenness.sentence).toContain('half the time');
}, 30_000);

test.each([
  ['two rows', { rows: 2, columns: 6 }],
  ['13 columns', { rows: 6, columns: 13 }],
  ['half a row', { rows: 3.5, columns: 6 }],
])('a grid of %s is refused', async (_, options) => {
  await expect(read([{ dose: () => 1 }], options)).rejects.toMatchObject({ code: 'comparison-invalid' });
});

test.each([
  [
    'outside the photo',
    [
      [900, 100],
      [1300, 100],
      [1300, 800],
      [900, 800],
    ],
    'marks-outside-photo',
    'outside the photo',
  ],
  [
    'of 40 pixels',
    [
      [500, 500],
      [540, 500],
      [540, 540],
      [500, 540],
    ],
    'marks-too-small',
    'fewer rows',
  ],
  [
    'with the card on it',
    [
      [20, 100],
      [1000, 100],
      [1000, 800],
      [20, 800],
    ],
    'marks-invalid',
    'Lay the card beside',
  ],
] as const)('a sheet %s is refused, and the sentence speaks of the sheet', async (_, quad, code, why) => {
  const { bytes, marks } = await paintedBed({ dose: () => 1 });
  const wrong = parseBedMarks({ ...marks, sheet: { quad } });
  const answer = readBed([{ bytes, marks: wrong }], card, recorded, { rows: 6, columns: 8 });
  await expect(answer).rejects.toMatchObject({ code, message: expect.stringContaining(why) });
  await expect(answer).rejects.not.toMatchObject({ message: expect.stringContaining('step') });
});

test.each([
  [
    'no sheet',
    {
      card: [
        {
          name: 'white',
          quad: [
            [0, 0],
            [9, 0],
            [9, 9],
            [0, 9],
          ],
        },
      ],
    },
  ],
  [
    'a sheet of crossing sides',
    {
      card: [
        {
          name: 'white',
          quad: [
            [0, 0],
            [9, 0],
            [9, 9],
            [0, 9],
          ],
        },
      ],
      sheet: {
        quad: [
          [100, 0],
          [900, 0],
          [100, 900],
          [900, 900],
        ],
      },
    },
  ],
  [
    'no card',
    {
      card: [],
      sheet: {
        quad: [
          [100, 0],
          [900, 0],
          [900, 900],
          [100, 900],
        ],
      },
    },
  ],
])('marks with %s are refused', (_, marks) => {
  expect(() => parseBedMarks(marks)).toThrowError(expect.objectContaining({ code: 'marks-invalid' }));
});
