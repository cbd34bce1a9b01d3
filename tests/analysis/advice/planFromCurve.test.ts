import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { advise } from '../../../analysis/advice/advise.ts';
import { type CurvePlanRequest, planFromCurve } from '../../../analysis/advice/planFromCurve.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { notFinite } from '../across/finite.ts';
import { INDIGO, knownCurve, knownSeconds } from '../across/knownCurve.ts';

const curve = knownCurve(INDIGO);
const set = bootstrapCurve(curve);
const half = { kind: 'depth', percent: 50 } as const;
const plan = (rest: Partial<CurvePlanRequest> = {}) =>
  planFromCurve({
    curve,
    set,
    target: half,
    light: 'tubes',
    layout: { kind: 'strip', direction: 'covering' },
    ...rest,
  });
const exposed = (made: ReturnType<typeof planFromCurve>) =>
  made.steps.filter((step) => step.step > 0).map((step) => step.seconds);
const codes = (items: readonly { readonly code: string }[]) => items.map((item) => item.code);
const invalid = expect.objectContaining({ code: 'plan-invalid' });

describe('a strip from an earlier curve', () => {
  test.each([
    ['50 % depth, read with ± 4 L*', half, 4],
    ['L* 40, read with ± 3 L*', { kind: 'L', L: 40 }, 3],
    ['full depth, read with ± 1 L*', { kind: 'full' }, 1],
  ] as const)('is the next strip of the reading itself: %s', (_, target, uL) => {
    const unsure = knownCurve(INDIGO, uL);
    const next = advise({ kind: 'fitted', curve: unsure }, target).nextStrip;
    expect(next).not.toBeNull();
    const made = plan({ curve: unsure, set: bootstrapCurve(unsure), target });
    expect(made.steps.map((step) => step.seconds)).toEqual(next?.seconds);
    expect(codes(made.warnings)).not.toContain('steps-too-coarse');
  });

  test('for a light one stop slower has all its times doubled', () => {
    const slower = plan({ shiftStops: -1, timerStepSeconds: 0.01 });
    const before = plan({ timerStepSeconds: 0.01 });
    exposed(slower).forEach((seconds, i) => {
      expect(seconds).toBeCloseTo(2 * exposed(before)[i], 1);
    });
    expect(slower.reason).toContain('1 stop slower');
  });

  test('with a spacing of its own lies evenly around the closed-form time: 85, 120, 170 s about half depth', () => {
    expect(exposed(plan({ stopsPerStep: 0.5, count: 3 }))).toEqual([85, 120, 170]);
    expect(exposed(plan({ stopsPerStep: 0.5, count: 3, shiftStops: -1 }))[1]).toBe(240);
  });

  test('with a count alone takes quarter stops for a dye of 2.1 stops from 10 to 90 %', () => {
    const times = exposed(plan({ curve: knownCurve({ ...INDIGO, n: 3 }), count: 3 }));
    expect(Math.log2(times[2] / times[1])).toBeCloseTo(0.25, 1);
  });

  test('around an L* the dye never reaches is planned around full depth; reason and warning say so, not that the curve gets there', () => {
    const made = plan({ target: { kind: 'L', L: 20 }, count: 5 });
    expect(codes(made.warnings)).toContain('target-unattainable');
    expect(exposed(made)).toContain(Math.round(knownSeconds(INDIGO, 1 - 1 / 58)));
    expect(made.reason).toContain('full depth');
    expect(made.reason).not.toContain('L* 20');
    expect(plan({ target: { kind: 'L', L: 20 } }).reason).toContain('full depth');
  });

  test('with a spacing of its own never aims more than one stop past the longest step', () => {
    const short = { ...curve, longestSeconds: 100 };
    const made = plan({ curve: short, target: { kind: 'depth', percent: 90 }, count: 5 });
    expect(codes(made.warnings)).toContain('target-beyond-curve');
    expect(exposed(made)[2]).toBe(200);
  });

  test('matches a swatch where the curve is nearest to it: 120 s for half of indigo', () => {
    const made = plan({ target: { kind: 'swatch', L: 59, a: -1, b: -15 }, count: 3 });
    expect(exposed(made)[1]).toBeGreaterThan(117);
    expect(exposed(made)[1]).toBeLessThan(123);
  });

  test.each([
    [
      'a target lighter than the cloth, L* 95',
      { target: { kind: 'L', L: 95 } },
      'lighter than the unexposed',
    ],
    ['a shift of 40 stops', { shiftStops: 40 }, '10 stops'],
    ['a shift that is no number', { shiftStops: Number.NaN }, '10 stops'],
    ['one step', { count: 1 }, 'at least two'],
    ['a timer step of 0 s', { timerStepSeconds: 0 }, 'timer step'],
  ] as const)('is refused with %s', (_, rest, why) => {
    expect(() => plan(rest)).toThrowError(invalid);
    expect(() => plan(rest)).toThrowError(why);
  });

  test('is refused for a depth of 0 % and an L* that is no number', () => {
    const wrong = expect.objectContaining({ code: 'target-invalid' });
    expect(() => plan({ target: { kind: 'depth', percent: 0 } })).toThrowError(wrong);
    expect(() => plan({ target: { kind: 'L', L: Number.NaN } })).toThrowError(wrong);
  });

  test('gives, for any target, shift and dye, rising times and no number that is not finite', () => {
    const dyes = [INDIGO, { ...INDIGO, n: 0.8, deepestL: 70 }, { ...INDIGO, n: 4, halfSeconds: 2 }].map(
      (known) => {
        const one = knownCurve(known);
        return { curve: one, set: bootstrapCurve(one, { count: 24 }) };
      },
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...dyes),
        fc.oneof(
          fc.record({ kind: fc.constant('L' as const), L: fc.double({ min: 1, max: 69, noNaN: true }) }),
          fc.record({
            kind: fc.constant('depth' as const),
            percent: fc.double({ min: 0.5, max: 100, noNaN: true }),
          }),
          fc.constant({ kind: 'full' as const }),
        ),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.constantFrom(undefined, 3, 6),
        (dye, target, shiftStops, count) => {
          let made: ReturnType<typeof planFromCurve>;
          try {
            made = plan({ ...dye, target, shiftStops, ...(count && { count }) });
          } catch (error) {
            expect(error).toEqual(invalid);
            return;
          }
          expect(notFinite(made)).toEqual([]);
          exposed(made).forEach((seconds, i, all) => {
            expect(seconds).toBeGreaterThan(all[i - 1] ?? 0);
          });
        },
      ),
      { seed: 20261125, numRuns: 150 },
    );
  });
});
