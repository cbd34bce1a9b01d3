import { describe, expect, it } from 'vitest';
import type { Control } from '../../server/contracts/recordUse.ts';
import { numbersOf, recordsOf, seriesOf } from '../../web/drift/series.ts';

const scrap = (day: number, over: Partial<Control> = {}): Control => ({
  id: `scrap-${day}`,
  createdAt: '2026-06-01T08:00:00.000Z',
  changedAt: '2026-06-01T08:00:00.000Z',
  putAwayAt: null,
  againstId: 'blue',
  readingId: null,
  dyeId: 'dye',
  clothId: 'cloth',
  lightId: 'tubes',
  scraps: [],
  setup: 'bench',
  batchId: null,
  lampHours: 100 + day,
  sky: null,
  exposedAt: `2026-06-${String(day).padStart(2, '0')}T08:00:00.000Z`,
  shiftStops: { value: day / 100, low: null, high: null },
  sentence: '',
  remark: '',
  ...over,
});

describe('control scraps of the book', () => {
  it('of two calibrations and two lights make three charts, the one with the newest scrap first', () => {
    const series = seriesOf(
      [scrap(1), scrap(9, { againstId: 'rust' }), scrap(3, { lightId: 'sun' }), scrap(2)],
      [],
    );
    expect(series.map(({ scraps }) => scraps.map(({ id }) => id))).toEqual([
      ['scrap-9'],
      ['scrap-3'],
      ['scrap-1', 'scrap-2'],
    ]);
  });

  it('held against a reading that was read again stay on one chart', () => {
    const read = [
      { id: 'blue', supersedesId: null },
      { id: 'blue-2', supersedesId: 'blue' },
      { id: 'blue-3', supersedesId: 'blue-2' },
    ];
    const series = seriesOf([scrap(1), scrap(2, { againstId: 'blue-3' })], read);
    expect(series).toHaveLength(1);
    expect(series[0].againstId).toBe('blue-3');
  });

  it('are never sorted for ever by readings that point at each other', () => {
    const torn = [
      { id: 'blue', supersedesId: 'rust' },
      { id: 'rust', supersedesId: 'blue' },
    ];
    expect(seriesOf([scrap(1)], torn)).toHaveLength(1);
  });
});

describe('what is charted', () => {
  it('leaves out what was put away or tells no shift, and numbers the rest from the present baseline on', () => {
    const [series] = seriesOf(
      [
        scrap(1),
        scrap(2),
        scrap(3, { shiftStops: { value: null, low: null, high: null } }),
        scrap(4, { putAwayAt: '2026-06-05T08:00:00.000Z' }),
        scrap(5),
        scrap(6),
      ],
      [],
    );
    expect(recordsOf(series).map(({ shiftStops }) => shiftStops)).toEqual([0.01, 0.02, 0.05, 0.06]);
    expect(numbersOf(series, 0)).toEqual([1, 2, null, null, 3, 4]);
    expect(numbersOf(series, 2)).toEqual([null, null, null, null, 1, 2]);
  });

  it('gives new lamps (20 h after 107 h) another setup than the old ones', () => {
    const [series] = seriesOf([scrap(7), scrap(8, { lampHours: 20 }), scrap(9, { lampHours: 30 })], []);
    const [old, first, second] = recordsOf(series);
    expect(first.setup).not.toBe(old.setup);
    expect(second.setup).toBe(first.setup);
  });
});
