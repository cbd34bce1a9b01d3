import fc from 'fast-check';
import { sampleCorrelation } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { type Covers, coverMoves, type Layout, placesAcrossBed } from '../../../analysis/plan/covers.ts';

const LAYOUTS: readonly Layout[] = [
  { kind: 'strip', direction: 'covering' },
  { kind: 'strip', direction: 'uncovering' },
  { kind: 'scraps', exposed: 'together' },
  { kind: 'scraps', exposed: 'in-turn' },
];

/** Does what the moves say, by the lamp clock, and adds up the light that each step gets. */
function exposuresByHand(covers: Covers, layout: Layout, count: number): number[] {
  const open = new Array<boolean>(count + 1).fill(false);
  const light = new Array<number>(count + 1).fill(0);
  let clock = 0;
  for (const move of covers.moves) {
    for (let step = 0; step <= count; step++) if (open[step]) light[step] += move.atSeconds - clock;
    clock = move.atSeconds;
    if (move.action === 'lamp-on') {
      const start = layout.kind === 'scraps' && layout.exposed === 'in-turn' ? [1] : null;
      const longestOnly = layout.kind === 'strip' && layout.direction === 'uncovering' ? [count] : null;
      for (const step of start ?? longestOnly ?? open.keys()) open[step] = step > 0;
    }
    if (move.action === 'cover' || move.action === 'take-out') open[move.step ?? 0] = false;
    if (move.action === 'uncover') open[move.step ?? 0] = true;
    if (move.action === 'change-scrap') {
      open.fill(false);
      open[move.step ?? 0] = true;
    }
  }
  return light;
}

function exposuresByBursts(covers: Covers, count: number): number[] {
  const light = new Array<number>(count + 1).fill(0);
  for (const burst of covers.bursts) for (const step of burst.litSteps) light[step] += burst.seconds;
  return light;
}

const risingTimes = fc
  .array(fc.integer({ min: 1, max: 4000 }), { minLength: 1, maxLength: 12 })
  .map((gaps) => gaps.map((_, i) => gaps.slice(0, i + 1).reduce((sum, gap) => sum + gap, 0) / 10));

describe.each(LAYOUTS)('cover moves for $kind, $direction$exposed', (layout) => {
  test('give every step its own time and the base none, by the moves and by the bursts', () => {
    fc.assert(
      fc.property(risingTimes, (times) => {
        const covers = coverMoves(times, layout);
        const wanted = [0, ...times];
        exposuresByHand(covers, layout, times.length).forEach((t, step) => {
          expect(t).toBeCloseTo(wanted[step], 6);
        });
        exposuresByBursts(covers, times.length).forEach((t, step) => {
          expect(t).toBeCloseTo(wanted[step], 6);
        });
      }),
      { numRuns: 300 },
    );
  });

  test('run forward in time, end at the lamp time, and leave no gap between bursts', () => {
    fc.assert(
      fc.property(risingTimes, (times) => {
        const { moves, bursts, lampSeconds } = coverMoves(times, layout);
        moves.forEach((move, i) => {
          expect(move.atSeconds).toBeGreaterThanOrEqual(moves[i - 1]?.atSeconds ?? 0);
        });
        expect(moves.at(-1)?.atSeconds).toBe(lampSeconds);
        let clock = 0;
        for (const burst of bursts) {
          expect(burst.startSeconds).toBeCloseTo(clock, 9);
          expect(burst.seconds).toBeGreaterThan(0);
          clock += burst.seconds;
        }
        expect(clock).toBeCloseTo(lampSeconds, 6);
      }),
    );
  });
});

test('a strip burns as long as its longest step, scraps in turn as long as all together', () => {
  const times = [30, 60, 120, 240];
  expect(coverMoves(times, LAYOUTS[0]).lampSeconds).toBe(240);
  expect(coverMoves(times, LAYOUTS[1]).lampSeconds).toBe(240);
  expect(coverMoves(times, LAYOUTS[2]).lampSeconds).toBe(240);
  expect(coverMoves(times, LAYOUTS[3]).lampSeconds).toBe(450);
});

test('a covering strip moves at 00:30, 01:00 and 02:00; an uncovering one at 02:00, 03:00 and 03:30', () => {
  const times = [30, 60, 120, 240];
  expect(coverMoves(times, LAYOUTS[0]).moves.map((move) => move.clock)).toEqual([
    '00:00',
    '00:30',
    '01:00',
    '02:00',
    '04:00',
  ]);
  expect(coverMoves(times, LAYOUTS[1]).moves.map((move) => move.clock)).toEqual([
    '00:00',
    '02:00',
    '03:00',
    '03:30',
    '04:00',
  ]);
});

test('speaks of a base only where there is one', () => {
  for (const layout of LAYOUTS) {
    const texts = coverMoves([30, 60], layout, false).moves.map((move) => move.text);
    expect(texts.join(' ')).not.toMatch(/base/i);
  }
  expect(coverMoves([30, 60], LAYOUTS[0]).moves[0].text).toBe('Base covered, all steps open: light on.');
});

test.each([[[]], [[0, 10]], [[10, 10]], [[20, 10]], [[Number.NaN]]])('refuses the times %j', (times) => {
  expect(() => coverMoves(times, LAYOUTS[0])).toThrowError(expect.objectContaining({ code: 'plan-invalid' }));
});

test('places along the bed hold every scrap once and correlate with exposure by less than 0.45 from 5 scraps on', () => {
  for (let count = 5; count <= 24; count++) {
    const places = placesAcrossBed(count);
    expect([...places].sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, i) => i + 1));
    const along = places.map((_, i) => i);
    expect(Math.abs(sampleCorrelation(along, places))).toBeLessThan(0.45);
  }
});
