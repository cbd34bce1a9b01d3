import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareDyes } from '../../../analysis/across/compare.ts';
import type { Advice, Target } from '../../../analysis/advice/advice.ts';
import { advise } from '../../../analysis/advice/advise.ts';
import { type CurvePlanRequest, planFromCurve } from '../../../analysis/advice/planFromCurve.ts';
import { judgeSteps } from '../../../analysis/advice/verdict.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import type { CurveOutcome, CurvePoint } from '../../../analysis/curve/curve.ts';
import { colourAt } from '../../../analysis/curve/evaluate.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';
import { runs } from '../../helpers/runs.ts';

const time = fc.oneof(
  fc.constantFrom(0, 1, 30, 60, 60, 120, 240),
  fc.double({ min: 0.01, max: 5000, noNaN: true }),
  fc.double({ min: 0.001, max: 1e6, noNaN: true }),
);
const lightness = fc.oneof(
  fc.double({ min: 10, max: 98, noNaN: true }),
  fc.constantFrom(0.9, 20, 20, 50, 95, 100, 104, 108),
);
const anyPoint = fc.record({
  seconds: time,
  L: lightness,
  a: fc.double({ min: -80, max: 80, noNaN: true }),
  b: fc.double({ min: -80, max: 80, noNaN: true }),
  uL: fc.oneof(fc.constantFrom(0, 0.3, 20), fc.double({ min: 0.01, max: 5, noNaN: true })),
});
/** Falling strips with noise: nearer to what printers make. */
const falling = fc
  .record({
    seconds: fc.array(time, { minLength: 1, maxLength: 12 }),
    scale: fc.double({ min: 0.5, max: 2000, noNaN: true }),
    noise: fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 12, maxLength: 12 }),
    deepest: fc.double({ min: 8, max: 88, noNaN: true }),
    uL: fc.constantFrom(0.2, 1, 3),
  })
  .map(({ seconds, scale, noise, deepest, uL }): CurvePoint[] =>
    seconds.map((s, i) => {
      const L = deepest + (90 - deepest) * Math.exp(-s / scale) + uL * noise[i];
      return { seconds: s, L, a: 0, b: -0.3 * (90 - L), uL };
    }),
  );
const constant = fc
  .tuple(fc.array(time, { minLength: 1, maxLength: 12 }), lightness)
  .map(([seconds, L]): CurvePoint[] => seconds.map((s) => ({ seconds: s, L, a: 0, b: 0, uL: 0.4 })));
/** Deeper up to some step, lighter again after it. */
const reversed = fc
  .record({
    count: fc.integer({ min: 3, max: 12 }),
    turn: fc.integer({ min: 1, max: 11 }),
    fall: fc.double({ min: 1, max: 12, noNaN: true }),
    rise: fc.double({ min: 0.2, max: 12, noNaN: true }),
  })
  .map(({ count, turn, fall, rise }): CurvePoint[] =>
    Array.from({ length: count }, (_, i) => {
      const L = Math.min(96, Math.max(5, 90 - fall * Math.min(i, turn) + rise * Math.max(0, i - turn)));
      return { seconds: i === 0 ? 0 : 15 * 2 ** i, L, a: 0, b: 0, uL: 0.5 };
    }),
  );
/** A base, and steps that all lie on the plateau. */
const saturated = fc
  .record({
    count: fc.integer({ min: 1, max: 11 }),
    first: fc.double({ min: 1, max: 5000, noNaN: true }),
    deepest: fc.double({ min: 6, max: 60, noNaN: true }),
    noise: fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 11, maxLength: 11 }),
  })
  .map(({ count, first, deepest, noise }): CurvePoint[] => [
    { seconds: 0, L: 90, a: 0, b: 0, uL: 0.5 },
    ...Array.from({ length: count }, (_, i) => ({
      seconds: first * 1.6 ** i,
      L: deepest + noise[i],
      a: 0,
      b: -20,
      uL: 0.4,
    })),
  ]);
const strip: fc.Arbitrary<CurvePoint[]> = fc.oneof(
  fc.array(anyPoint, { minLength: 1, maxLength: 12 }),
  falling,
  falling,
  constant,
  reversed,
  saturated,
);
/** The strip's own errors, and perhaps one that all its steps share. */
const sharedU = fc.constantFrom(null, 0.01, 0.8, 5);
/** An even series, or now and then the strip that tells most. */
const planCount = fc.constantFrom(5, 3, 8, 24, null);
const LONGEST_MS = 3000;
const target: fc.Arbitrary<Target> = fc.oneof(
  fc.record({ kind: fc.constant('L' as const), L: fc.double({ min: 0, max: 100, noNaN: true }) }),
  fc.record({ kind: fc.constant('depth' as const), percent: fc.double({ min: 0.1, max: 100, noNaN: true }) }),
  fc.constant({ kind: 'full' as const }),
  fc.record({
    kind: fc.constant('swatch' as const),
    L: fc.double({ min: 0, max: 100, noNaN: true }),
    a: fc.double({ min: -60, max: 60, noNaN: true }),
    b: fc.double({ min: -60, max: 60, noNaN: true }),
  }),
);

/** Every number in a plain value is a real one: NaN and Infinity would not survive JSON. */
function plain(value: unknown): boolean {
  return JSON.stringify(JSON.parse(JSON.stringify(value))) === JSON.stringify(value) && allFinite(value);
}

function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (value && typeof value === 'object') return Object.values(value).every(allFinite);
  return value !== undefined;
}

function sound(outcome: CurveOutcome, advice: Advice): void {
  expect(allFinite(advice)).toBe(true);
  if (outcome.kind !== 'fitted') {
    expect(advice.status).toBe('too-few-steps');
    return;
  }
  const { seconds, low, high, roundedSeconds } = advice;
  const { longestSeconds } = outcome.curve;
  if (seconds === null) {
    expect([low, high, roundedSeconds]).toEqual([null, null, null]);
    expect(['beyond', 'unattainable']).toContain(advice.status);
    return;
  }
  expect(seconds).toBeGreaterThan(0);
  expect(low!).toBeLessThanOrEqual(seconds);
  expect(high!).toBeGreaterThanOrEqual(seconds);
  expect(high!).toBeLessThanOrEqual(2 * longestSeconds);
  expect(roundedSeconds!).toBeGreaterThan(0);
  if (roundedSeconds! > 15) expect(roundedSeconds!).toBeLessThanOrEqual(2 * longestSeconds);
  if (advice.status === 'inside') expect(seconds).toBeLessThanOrEqual(longestSeconds);
  else expect(advice.nextStrip).not.toBeNull();
}

const other = fitCurve(
  [0, 20, 40, 80, 160, 320, 640].map((seconds) => ({
    seconds,
    L: 30 + 60 * Math.exp(-seconds / 120),
    a: 0,
    b: 0,
    uL: 0.5,
  })),
);
if (other.kind !== 'fitted') throw new Error(other.message);
const compared = {
  name: 'other',
  cloth: 'silk',
  light: 'tubes',
  curve: other.curve,
  set: bootstrapCurve(other.curve, { count: 20 }),
};

/** What the planner may say to a strip that no timer can run or a target lighter than the cloth. */
const refusedPlan = expect.objectContaining({ code: 'plan-invalid' });

function planned(request: CurvePlanRequest): void {
  try {
    expect(allFinite(planFromCurve(request))).toBe(true);
  } catch (error) {
    expect(error).toEqual(refusedPlan);
  }
}

describe('random strips of 1 to 12 steps, equal times, reversed, noisy and saturated ones among them', () => {
  it('are fitted, judged, advised on, planned from and compared without a throw, a NaN, a time off the strip or three seconds of thought', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(strip, target, sharedU, planCount, (points, wanted, shared, count) => {
        const started = performance.now();
        const outcome = fitCurve(
          points,
          shared === null
            ? {}
            : {
                covarianceL: points.map(({ uL }, i) =>
                  points.map((_, j) => shared ** 2 + (i === j ? uL ** 2 : 0)),
                ),
              },
        );
        expect(allFinite(outcome)).toBe(true);
        kinds.add(outcome.kind === 'fitted' ? outcome.curve.model : outcome.kind);
        const judgements = judgeSteps(
          points.map((point) => ({ ...point, deltaEToBase: null })),
          outcome,
        );
        expect(judgements).toHaveLength(points.length);
        if (outcome.kind === 'fitted') {
          const { curve } = outcome;
          const set = bootstrapCurve(curve, { count: 20 });
          sound(outcome, advise(outcome, wanted, { bootstrap: set }));
          for (const s of [0, 10, 1e9]) expect(allFinite(colourAt(curve, s))).toBe(true);
          planned({
            curve,
            set,
            target: wanted,
            light: 'tubes',
            layout: { kind: 'strip', direction: 'covering' },
            ...(count !== null && { count }),
          });
          const dye = { name: 'dye', cloth: 'silk', light: 'tubes', curve, set };
          expect(allFinite(compareDyes([dye, compared], { targetL: 50 }))).toBe(true);
        } else {
          sound(outcome, advise(outcome, wanted));
        }
        expect(performance.now() - started).toBeLessThan(LONGEST_MS);
      }),
      { numRuns: runs('strips of random steps', 2000, 250), seed: 20240611, endOnFailure: true },
    );
    expect([...kinds].sort()).toEqual(['blank', 'build-up', 'logistic', 'monotone', 'too-few-steps']);
  }, 120_000);

  it('give plain values: curve and advice survive JSON unchanged (60 of them)', () => {
    fc.assert(
      fc.property(strip, (points) => {
        const outcome = fitCurve(points);
        expect(plain(outcome)).toBe(true);
        if (outcome.kind === 'fitted') {
          const set = bootstrapCurve(outcome.curve, { count: 10 });
          expect(plain(advise(outcome, { kind: 'full' }, { bootstrap: set }))).toBe(true);
        }
      }),
      { numRuns: 60, seed: 4, endOnFailure: true },
    );
  });
});
