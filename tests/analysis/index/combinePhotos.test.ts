import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import type { AnalysisError } from '../../../analysis/errors.ts';
import { combinePhotos } from '../../../analysis/steps/combinePhotos.ts';
import type { Step, StepSet } from '../../../analysis/steps/step.ts';
import { random } from '../../../fixtures/random.ts';

const SECONDS = [0, 60, 120];
/** One photo's errors: 0.3 L* shared by all photos, 0.4 of its own, each the same for all steps. */
const SHARED = 0.3;
const OWN = 0.4;
/** The part of its own that a slant of light makes. */
const SLANT = 0.36;

const setOf = (lightness: readonly number[], how: Partial<Step> = {}, directionDegrees = 0): StepSet => {
  const square = (value: number) => SECONDS.map(() => SECONDS.map(() => value));
  return {
    covarianceL: square(SHARED ** 2 + OWN ** 2),
    sharedCovarianceL: square(SHARED ** 2),
    slantCovarianceL: square(SLANT ** 2),
    directionDegrees,
    steps: lightness.map(
      (L, i): Step => ({
        seconds: SECONDS[i],
        L,
        a: 3,
        b: -4,
        chroma: 5,
        hue: 300,
        Y: 0,
        deltaEToBase: 0,
        deltaEToPrevious: i === 0 ? null : 1,
        density: 0,
        ksIndex: 2,
        unevennessL: 0.5,
        clippedShare: 0,
        tilesUsed: 60,
        tilesDropped: 4,
        uL: Math.hypot(SHARED, OWN),
        budget: { step: 0.18, card: 0.24, illumination: 0.24, tone: 0.32 },
        ...how,
      }),
    ),
  };
};
const FLAT = [80, 60, 40];
const shifted = (by: number) => setOf(FLAT.map((L) => L + by));

describe('photos of one strip taken together', () => {
  it('one photo is left as it is, its spread as expected', () => {
    const { set, repeatability } = combinePhotos([shifted(0)]);
    set.steps.forEach((step, i) => {
      expect(step.L).toBeCloseTo(FLAT[i], 10);
      expect(step.uL).toBeCloseTo(Math.hypot(SHARED, OWN), 10);
    });
    expect(repeatability.photos).toBe(1);
    // Half of the own variance 0.16 differs from photo to photo.
    expect(repeatability.measuredL).toBeCloseTo(Math.sqrt(0.08), 10);
    expect(repeatability.expectedL).toBeCloseTo(Math.sqrt(0.08), 10);
  });

  it('two photos ±0.4 L* from their mean: a spread of 0.57 between them where 0.28 was expected', () => {
    // Sample standard deviation of (−0.4, 0.4): sqrt(0.32) = 0.5657.
    const { set, repeatability } = combinePhotos([shifted(-0.4), shifted(0.4)]);
    expect(repeatability.measuredL).toBeCloseTo(Math.sqrt(0.32), 10);
    expect(repeatability.expectedL).toBeCloseTo(Math.sqrt(0.08), 10);
    // The 0.08 of each photo scaled by (3 + 0.32/0.08)/(3 + 1) = 1.75, halved; the 0.08 of both and the shared 0.09 stay.
    expect(set.steps[0].uL).toBeCloseTo(Math.sqrt(0.09 + 0.08 + (0.08 * 1.75) / 2), 10);
    expect(set.steps.map((s) => s.L)).toEqual(FLAT);
  });

  it('two photos turned end for end: nine tenths of the slant’s part go, and a spread of its double is expected', () => {
    // Own 0.16, slant 0.1296 of it, 0.9 of that alike: slant left (2 − 2·0.9)/4, of the rest a half and a quarter.
    const rest = 0.16 - 0.1296;
    const spread = 0.5 * rest + 1.9 * 0.1296;
    const half = Math.sqrt(spread / 2);
    const { set, repeatability } = combinePhotos([
      setOf(FLAT.map((L) => L - half)),
      setOf(
        FLAT.map((L) => L + half),
        {},
        172,
      ),
    ]);
    expect(repeatability.turned).toBe(true);
    expect(repeatability.measuredL).toBeCloseTo(repeatability.expectedL, 10);
    expect(repeatability.expectedL).toBeCloseTo(Math.sqrt(spread), 10);
    expect(set.steps[0].uL).toBeCloseTo(Math.sqrt(0.09 + 0.75 * rest + (0.2 * 0.1296) / 4), 10);
  });

  it('two photos at a right angle, or both the same way round, cancel no slant', () => {
    for (const degrees of [0, 90, 149]) {
      const { set, repeatability } = combinePhotos([shifted(0), setOf(FLAT, {}, degrees)]);
      expect(repeatability.turned).toBe(false);
      expect(repeatability.expectedL).toBeCloseTo(Math.sqrt(0.08), 10);
      expect(set.steps[0].uL).toBeCloseTo(Math.sqrt(0.09 + 0.08 + (0.08 * 0.75) / 2), 10);
    }
  });

  it('nine photos that agree perfectly: half of light and tone falls to 3/11 of a ninth, the other half stays', () => {
    const { set } = combinePhotos(Array.from({ length: 9 }, () => shifted(0)));
    expect(set.steps[1].uL).toBeCloseTo(Math.sqrt(0.09 + 0.08 + (0.08 * 3) / 11 / 9), 10);
  });

  it('two photos far apart, ±3 L*: an uncertainty of 1.57, 3.5 times that of photos that agree', () => {
    // Measured variance 18: each photo's 0.08 scaled by (3 + 18/0.08)/4 = 57, halved; and 0.08 and 0.09.
    const { set } = combinePhotos([shifted(-3), shifted(3)]);
    expect(set.steps[0].uL).toBeCloseTo(Math.sqrt(0.09 + 0.08 + (0.08 * 57) / 2), 10);
    expect(set.steps[0].uL / combinePhotos([shifted(0), shifted(0)]).set.steps[0].uL).toBeCloseTo(3.5, 9);
  });

  const HALF = Math.sqrt(0.5) * OWN;
  /** Share of 400 strips of three photos each, whose truth lies within 1.645 u when a photo's own errors have this size. */
  const heldWhere = (own: number): number => {
    const rng = random(5, 5);
    const trials = Array.from({ length: 400 }, () => {
      const shared = SHARED * rng.normal() + HALF * rng.normal();
      const { set } = combinePhotos([0, 1, 2].map(() => shifted(shared + own * rng.normal())));
      return Math.abs(set.steps[0].L - FLAT[0]) <= 1.645 * set.steps[0].uL;
    });
    return trials.filter(Boolean).length / trials.length;
  };

  it('hold the truth within 1.645 u in 86 to 95 % of 400 trials when the budget is right', () => {
    expect(heldWhere(HALF)).toBeGreaterThan(0.86);
    expect(heldWhere(HALF)).toBeLessThan(0.95);
  });

  it('hold it in 74 % or more when each photo errs four times as much; the budget alone would hold 65 %', () => {
    // Budget alone: u = sqrt(0.17 + 0.08/3) = 0.443 against a spread of sqrt(0.17 + 16·0.08/3) = 0.773.
    expect(heldWhere(4 * HALF)).toBeGreaterThan(0.74);
  });

  it('restate what follows from L*: Y and density of the mean, chroma 5, hue 306.87°, ΔE00 to base and before', () => {
    const { steps } = combinePhotos([shifted(-1), shifted(1)]).set;
    // Source: CIE 15, Y of L* 80 is (96/116)^3 = 0.566813; density -log10 of it is 0.246560.
    expect(steps[0].Y).toBeCloseTo(0.566813, 5);
    expect(steps[0].density).toBeCloseTo(0.24656, 5);
    expect(steps[0].chroma).toBeCloseTo(5, 10);
    // atan2(-4, 3) = -53.130° = 306.870°.
    expect(steps[0].hue).toBeCloseTo(306.8699, 3);
    expect(steps[0].deltaEToPrevious).toBeNull();
    expect(steps[2].deltaEToBase).toBeGreaterThan(steps[1].deltaEToBase!);
    expect(steps[1].deltaEToPrevious).toBeCloseTo(steps[1].deltaEToBase!, 10);
  });

  it('keep a strip without a base without ΔE00 to it', () => {
    const without = () => setOf(FLAT, { deltaEToBase: null });
    expect(combinePhotos([without(), without()]).set.steps.map((s) => s.deltaEToBase)).toEqual([
      null,
      null,
      null,
    ]);
  });

  it('add up tiles and keep the worst clipping: 120 used, 8 dropped, 30 %', () => {
    const { steps } = combinePhotos([shifted(0), setOf(FLAT, { clippedShare: 0.3 })]).set;
    expect(steps[0]).toMatchObject({ tilesUsed: 120, tilesDropped: 8, clippedShare: 0.3 });
  });

  it('have a positive semi-definite covariance whose diagonal is u squared', () => {
    const { set } = combinePhotos([shifted(-0.5), shifted(0.2), shifted(0.4)]);
    set.steps.forEach((step, i) => {
      expect(set.covarianceL[i][i]).toBeCloseTo(step.uL ** 2, 12);
    });
    const matrix = new Matrix(set.covarianceL.map((row) => [...row]));
    expect(Math.min(...new EigenvalueDecomposition(matrix).realEigenvalues)).toBeGreaterThan(-1e-12);
  });

  it('are refused as marks-invalid where the exposures differ', () => {
    const other = { ...shifted(0), steps: shifted(0).steps.map((s) => ({ ...s, seconds: s.seconds + 1 })) };
    for (const sets of [
      [shifted(0), other],
      [shifted(0), { ...shifted(0), steps: shifted(0).steps.slice(1) }],
    ])
      expect(() => combinePhotos(sets)).toThrowError(
        expect.objectContaining({ name: 'AnalysisError', code: 'marks-invalid' }) as unknown as AnalysisError,
      );
  });
});
