import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Advice, Target } from '../../../analysis/advice/advice.ts';
import { type AdviceOptions, advise } from '../../../analysis/advice/advise.ts';
import { judgeSteps } from '../../../analysis/advice/verdict.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import type { CurveOutcome, CurvePoint } from '../../../analysis/curve/curve.ts';
import { colourAt } from '../../../analysis/curve/evaluate.ts';
import { fitCurve } from '../../../analysis/curve/fitCurve.ts';

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
const strip: fc.Arbitrary<CurvePoint[]> = fc.oneof(
  fc.array(anyPoint, { minLength: 1, maxLength: 12 }),
  falling,
  falling,
  constant,
);
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

describe('2000 random strips of 1 to 12 steps', () => {
  it('are fitted, judged and advised on without a throw, a NaN or a time off the strip', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(strip, target, (points, wanted) => {
        const outcome = fitCurve(points);
        expect(allFinite(outcome)).toBe(true);
        kinds.add(outcome.kind === 'fitted' ? outcome.curve.model : outcome.kind);
        const judgements = judgeSteps(
          points.map((point) => ({ ...point, deltaEToBase: null })),
          outcome,
        );
        expect(judgements).toHaveLength(points.length);
        const options: AdviceOptions =
          outcome.kind === 'fitted' ? { bootstrap: bootstrapCurve(outcome.curve, { count: 20 }) } : {};
        sound(outcome, advise(outcome, wanted, options));
        if (outcome.kind === 'fitted') {
          for (const s of [0, 10, 1e9]) expect(allFinite(colourAt(outcome.curve, s))).toBe(true);
        }
      }),
      { numRuns: 2000, seed: 20240611, endOnFailure: true },
    );
    expect([...kinds].sort()).toEqual(['blank', 'build-up', 'logistic', 'monotone', 'too-few-steps']);
  }, 60_000);

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
