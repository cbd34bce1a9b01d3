import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Layout } from '../../../analysis/plan/covers.ts';
import { type PlanRequest, planStrip } from '../../../analysis/plan/plan.ts';
import { SKIES, skyFactor } from '../../../analysis/plan/sky.ts';
import type { PlanStart } from '../../../analysis/plan/start.ts';
import { roundToTimer } from '../../../analysis/plan/timer.ts';
import { separableStops } from '../../../analysis/plan/warnings.ts';
import { notFinite } from '../across/finite.ts';

const STRIP: Layout = { kind: 'strip', direction: 'covering' };
const invalid = expect.objectContaining({ code: 'plan-invalid' });
const plan = (start: PlanStart, rest: Partial<PlanRequest> = {}) =>
  planStrip({ start, light: 'tubes', layout: STRIP, ...rest });
const codes = (items: readonly { readonly code: string }[]) => items.map((item) => item.code);
const exposed = (made: ReturnType<typeof planStrip>) =>
  made.steps.filter((step) => step.step > 0).map((s) => s.seconds);

describe('a first strip from nothing', () => {
  // Common practice: six or seven steps one stop apart and an unexposed piece.
  test('is a base and seven steps one stop apart, 30 s to 32 min, without a warning', () => {
    const made = plan({ kind: 'nothing' });
    expect(made.steps.map((step) => step.seconds)).toEqual([0, 30, 60, 120, 240, 480, 960, 1920]);
    expect(made.lampSeconds).toBe(1920);
    expect(made.warnings).toEqual([]);
  });

  test('labels steps with number, time and stops, under the name given', () => {
    const made = plan({ kind: 'nothing', count: 6 }, { name: 'teal on silk' });
    expect(made.steps[0].label).toBe('teal on silk · 0 · base');
    expect(made.steps[3].label).toBe('teal on silk · 3 · 02:00 · +2 stops');
  });

  test('labels whole stops as such where the timer rounded 194 and 387 s', () => {
    const made = plan({ kind: 'equal-stop', firstSeconds: 193.5, stopsPerStep: 1, count: 5 });
    expect(made.steps[2].label).toBe('2 · 06:27 · +1 stop');
  });

  test('with three steps only, says that both ends may not show and the bend is assumed', () => {
    expect(codes(plan({ kind: 'nothing', count: 3 }).warnings)).toEqual(['few-steps', 'range-too-narrow']);
  });
});

describe("a strip from a maker's time", () => {
  test('for the same sun and sky reaches from an eighth to four times of 8 min', () => {
    const made = plan({ kind: 'maker', seconds: 480, madeFor: 'sun' }, { light: 'sun' });
    expect(exposed(made)).toEqual([60, 120, 240, 480, 960, 1920]);
    expect(made.warnings).toEqual([]);
  });

  // Ultraviolet shares 100, 89, 73, 31 %: US EPA values quoted on a web page, second-hand.
  test.each([
    ['scattered', 1.1236],
    ['broken', 1.3699],
    ['overcast', 3.2258],
  ] as const)('from a clear to a %s sky takes %d times as long', (sky, factor) => {
    expect(skyFactor('clear', sky).timeFactor).toBeCloseTo(factor, 4);
    const made = plan(
      { kind: 'maker', seconds: 480, madeFor: 'sun', madeForSky: 'clear', sky },
      { light: 'sun' },
    );
    expect(exposed(made)).toContain(Math.round(480 * factor));
  });

  test('under an overcast sky is wider and says 2.0 to 10.0 times', () => {
    const made = plan({ kind: 'maker', seconds: 480, madeFor: 'sun', sky: 'overcast' }, { light: 'sun' });
    expect(exposed(made)).toHaveLength(7);
    expect(made.warnings[0].code).toBe('sky-uncertain');
    expect(made.warnings[0].message).toContain('2.0 to 10.0');
  });

  test('that takes 103 min of sun says that the sun changes meanwhile', () => {
    const made = plan({ kind: 'maker', seconds: 480, madeFor: 'sun', sky: 'overcast' }, { light: 'sun' });
    expect(made.lampSeconds).toBe(Math.round((4 * 480) / 0.31));
    expect(made.warnings[1]).toMatchObject({ code: 'sun-changes' });
    expect(made.warnings[1].message).toContain('103 min');
  });

  test('there and back between two skies is a factor of 1', () => {
    for (const a of SKIES) {
      for (const b of SKIES) {
        const there = skyFactor(a, b);
        expect(there.timeFactor * skyFactor(b, a).timeFactor).toBeCloseTo(1, 12);
        expect(there.low).toBeLessThanOrEqual(there.timeFactor);
        expect(there.high).toBeGreaterThanOrEqual(there.timeFactor);
      }
    }
  });

  test('for another light is wide and says to check the light source if the strip stays blank', () => {
    const made = plan({ kind: 'maker', seconds: 600, madeFor: 'sun' }, { light: 'tubes' });
    expect(exposed(made)).toHaveLength(7);
    expect(made.warnings[0]).toMatchObject({ code: 'other-light' });
    expect(made.warnings[0].message).toContain('check the light source first');
  });

  test('with a sky under a lamp, or no time, is refused', () => {
    expect(() => plan({ kind: 'maker', seconds: 600, madeFor: 'sun', sky: 'clear' })).toThrowError(invalid);
    expect(() => plan({ kind: 'maker', seconds: 0, madeFor: 'tubes' })).toThrowError(invalid);
  });
});

describe('a strip of listed times', () => {
  test('has just these, rising, with moves and bursts that add up: 20, 45, 100 s and a base', () => {
    const made = plan({ kind: 'times', seconds: [100, 0, 20, 45] });
    expect(made.steps.map((step) => step.seconds)).toEqual([0, 20, 45, 100]);
    expect(made.bursts.map((burst) => burst.seconds)).toEqual([20, 25, 55]);
    expect(made.lampSeconds).toBe(100);
  });

  test('warns where 2.3 stops lie between two of them, and where two lie 0.07 stop apart', () => {
    expect(codes(plan({ kind: 'times', seconds: [20, 40, 80, 400] }).warnings)).toContain('steps-too-coarse');
    expect(codes(plan({ kind: 'times', seconds: [20, 40, 80, 84] }).warnings)).toContain('steps-too-fine');
  });

  test.each([
    ['a time twice', [60, 60, 120]],
    ['a negative time', [-5, 60]],
    ['a time that is no number', [Number.NaN, 60]],
    ['more than a day', [60, 90_000]],
    ['25 steps', Array.from({ length: 25 }, (_, i) => 10 + i)],
    ['only a base', [0]],
  ])('is refused with %s', (_, seconds) => {
    expect(() => plan({ kind: 'times', seconds })).toThrowError(invalid);
  });
});

describe('spacing', () => {
  const steep = { exposureScaleStops: 2.2, contrastLPerStop: 20 };
  const flat = { exposureScaleStops: 4.4, contrastLPerStop: 4 };

  test('one-stop steps are too coarse for a dye of 2.2 stops from 10 to 90 %, and fine for one of 4.4', () => {
    const start = { kind: 'equal-stop', firstSeconds: 30, stopsPerStep: 1, count: 6 } as const;
    expect(codes(plan(start, { dye: steep }).warnings)).toEqual(['steps-too-coarse']);
    expect(plan(start, { dye: flat }).warnings).toEqual([]);
  });

  test('quarter stops are finer than ±0.5 L* can separate at 4 L* per stop, and not at 20', () => {
    expect(separableStops(4, 0.5)).toBeCloseTo(0.3536, 4);
    const start = { kind: 'around', guessSeconds: 240, stopsPerStep: 0.25, count: 5 } as const;
    expect(codes(plan(start, { dye: flat }).warnings)).toEqual(['steps-too-fine']);
    expect(plan(start, { dye: steep }).warnings).toEqual([]);
  });

  test('equal added times of 30 s are too coarse at the short end and too fine at the long end of 24 steps', () => {
    const start = { kind: 'equal-time', firstSeconds: 30, addedSeconds: 30, count: 24 } as const;
    expect(codes(plan(start, { dye: { exposureScaleStops: 2.2, contrastLPerStop: 4 } }).warnings)).toEqual([
      'steps-too-coarse',
      'steps-too-fine',
    ]);
  });
});

describe('the timer', () => {
  test('of 30 s merges third stops around 60 s and says how many', () => {
    const made = plan(
      { kind: 'around', guessSeconds: 60, stopsPerStep: 1 / 3, count: 7 },
      { timerStepSeconds: 30 },
    );
    expect(exposed(made)).toEqual([30, 60, 90, 120]);
    expect(made.warnings.find((w) => w.code === 'steps-merged')?.message).toMatch(/^3 steps/);
    expect(codes(made.warnings)).toContain('timer-too-coarse');
  });

  test('that puts all steps on one setting is refused', () => {
    expect(() => plan({ kind: 'around', guessSeconds: 5, count: 5 }, { timerStepSeconds: 60 })).toThrowError(
      invalid,
    );
  });

  test('of 0.1 s shows no binary dust', () => {
    expect(roundToTimer(0.3000001, 0.1)).toBe(0.3);
    expect(roundToTimer(0.01, 0.1)).toBe(0.1);
  });
});

describe('notes and cautions', () => {
  test('name intermittency only where the light goes off for the moves, and warm-up only for lamps', () => {
    const start = { kind: 'nothing' } as const;
    expect(codes(plan(start, { lampDuringMoves: 'off' }).notes)).toEqual([
      'intermittency',
      'lamp-warm-up',
      'middle-of-bed',
      'cover',
      'same-wash',
    ]);
    expect(codes(plan(start).notes)).toContain('one-stretch');
    expect(codes(plan(start, { light: 'sun' }).notes)).toEqual([
      'one-stretch',
      'sun-does-not-repeat',
      'sun-protection',
      'middle-of-bed',
      'cover',
      'same-wash',
    ]);
    expect(codes(plan(start, { light: 'led' }).notes)).not.toContain('lamp-warm-up');
  });

  test('scraps together have mixed places, scraps in turn one place', () => {
    const start = { kind: 'nothing', count: 6 } as const;
    const together = plan(start, { layout: { kind: 'scraps', exposed: 'together' } });
    expect(together.places).toEqual([1, 6, 2, 5, 3, 4]);
    expect(codes(together.notes)).toContain('mixed-order');
    const inTurn = plan(start, { layout: { kind: 'scraps', exposed: 'in-turn' } });
    expect(inTurn.places).toBeNull();
    expect(inTurn.lampSeconds).toBe(30 + 60 + 120 + 240 + 480 + 960);
    expect(codes(inTurn.notes)).toContain('same-place');
  });

  test('every plan carries the cautions on eyes, wiring, mercury, chemicals, glass and scraps', () => {
    const { cautions } = plan({ kind: 'nothing' });
    const all = cautions.map((caution) => caution.text).join(' ');
    for (const word of [
      'eyewear',
      'licensed electrician',
      'residual-current',
      'mercury',
      'safety data sheet',
      'ferricyanide with strong acid',
      'water authority',
      'taped edges',
      'test on a scrap',
      'local codes',
    ]) {
      expect(all).toContain(word);
    }
    expect(new Set(cautions.map((caution) => caution.key)).size).toBe(cautions.length);
  });

  test('a plan without a base says what is missing, and moves 2 s apart are too quick for hands', () => {
    expect(codes(plan({ kind: 'nothing' }, { base: false }).warnings)).toEqual(['base-missing']);
    expect(codes(plan({ kind: 'nothing', firstSeconds: 2 }).warnings)).toEqual(['moves-too-close']);
    expect(plan({ kind: 'nothing', firstSeconds: 2 }, { lampDuringMoves: 'off' }).warnings).toEqual([]);
  });
});

test.each([
  ['one step', { start: { kind: 'nothing', count: 1 } }],
  ['a timer step of 0 s', { timerStepSeconds: 0 }],
  ['a timer step that is no number', { timerStepSeconds: Number.NaN }],
  ['an uncertainty of 0', { uL: 0 }],
] satisfies [string, Partial<PlanRequest>][])('refuses a plan with %s', (_, rest) => {
  expect(() =>
    planStrip({ start: { kind: 'nothing' }, light: 'tubes', layout: STRIP, ...rest }),
  ).toThrowError(invalid);
});

const anyTime = fc.double({ min: 0.2, max: 3000, noNaN: true });
const anyStops = fc.double({ min: 0.05, max: 1.5, noNaN: true });
const anyCount = fc.integer({ min: 2, max: 12 });
const anyStart: fc.Arbitrary<PlanStart> = fc.oneof(
  fc.record({
    kind: fc.constant('equal-stop' as const),
    firstSeconds: anyTime,
    stopsPerStep: anyStops,
    count: anyCount,
  }),
  fc.record({
    kind: fc.constant('equal-time' as const),
    firstSeconds: anyTime,
    addedSeconds: anyTime,
    count: anyCount,
  }),
  fc.record({
    kind: fc.constant('around' as const),
    guessSeconds: anyTime,
    stopsPerStep: anyStops,
    count: anyCount,
  }),
  fc.record({
    kind: fc.constant('maker' as const),
    seconds: anyTime,
    madeFor: fc.constantFrom('sun' as const, 'tubes' as const),
  }),
  fc.record({
    kind: fc.constant('times' as const),
    seconds: fc.array(anyTime, { minLength: 2, maxLength: 12 }),
  }),
  fc.record({ kind: fc.constant('nothing' as const), firstSeconds: anyTime, count: anyCount }),
);
const anyLayout = fc.constantFrom<Layout>(
  STRIP,
  { kind: 'strip', direction: 'uncovering' },
  { kind: 'scraps', exposed: 'together' },
  { kind: 'scraps', exposed: 'in-turn' },
);

test('any plan has rising positive times on whole timer steps, and its moves give just the exposures it states', () => {
  let planned = 0;
  fc.assert(
    fc.property(
      anyStart,
      anyLayout,
      fc.constantFrom('tubes' as const, 'sun' as const, 'led' as const),
      fc.constantFrom(0.1, 0.5, 1, 5, 60),
      (start, layout, light, timerStepSeconds) => {
        let made: ReturnType<typeof planStrip>;
        try {
          made = planStrip({ start, light, layout, timerStepSeconds });
        } catch (error) {
          expect(error).toEqual(invalid);
          return;
        }
        planned++;
        const times = exposed(made);
        times.forEach((seconds, i) => {
          expect(Number.isFinite(seconds) && seconds > 0).toBe(true);
          expect(seconds).toBeGreaterThan(times[i - 1] ?? 0);
          expect(Math.abs(seconds / timerStepSeconds - Math.round(seconds / timerStepSeconds))).toBeLessThan(
            1e-6,
          );
        });
        const light2 = new Array<number>(times.length + 1).fill(0);
        for (const burst of made.bursts) for (const step of burst.litSteps) light2[step] += burst.seconds;
        for (const step of made.steps) expect(light2[step.step]).toBeCloseTo(step.seconds, 6);
        for (const move of made.moves) {
          const ticks = move.atSeconds / timerStepSeconds;
          expect(Math.abs(ticks - Math.round(ticks))).toBeLessThan(1e-6);
        }
        expect(notFinite(made)).toEqual([]);
      },
    ),
    { numRuns: 600 },
  );
  expect(planned).toBeGreaterThan(300);
});
