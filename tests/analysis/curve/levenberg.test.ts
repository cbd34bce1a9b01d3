import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fitFromMany, fitLeastSquares } from '../../../analysis/curve/levenberg.ts';
import { readStrd, strdLines, strdModels } from './nistStrd.ts';

/** Digits that two numbers have in common: the log relative error that NIST's StRD pages use. */
function sharedDigits(value: number, certified: number): number {
  return value === certified ? 15 : -Math.log10(Math.abs(value - certified) / Math.abs(certified));
}

// Source: NIST/ITL Statistical Reference Datasets, tests/reference/nist_strd/SOURCE.md.
describe('NIST StRD nonlinear sets', () => {
  for (const [name, model] of Object.entries(strdModels)) {
    const set = readStrd(name);
    const residuals = (b: readonly number[]) => set.x.map((x, i) => model(x, b) - set.y[i]);
    set.starts.forEach((start, index) => {
      it(`${name} from start ${index + 1} agrees with the certified values to 6 digits`, () => {
        const fit = fitLeastSquares(residuals, start);
        // Observations less parameters, also for Rat43, whose header says 9 for 11.
        const degreesOfFreedom = set.x.length - start.length;
        const residualSd = Math.sqrt(fit.rss / degreesOfFreedom);
        expect(fit.converged).toBe(true);
        expect(fit.degreesOfFreedom).toBe(degreesOfFreedom);
        set.certified.forEach((value, j) => {
          expect(sharedDigits(fit.parameters[j], value)).toBeGreaterThanOrEqual(6);
          expect(
            sharedDigits(residualSd * Math.sqrt(fit.covariance![j][j]), set.certifiedSd[j]),
          ).toBeGreaterThanOrEqual(6);
        });
        expect(sharedDigits(fit.rss, set.rss)).toBeGreaterThanOrEqual(6);
        expect(sharedDigits(residualSd, set.residualSd)).toBeGreaterThanOrEqual(6);
      });
    });
  }
});

describe('a straight line', () => {
  const rows = strdLines('Norris')
    .slice(60)
    .flatMap((line) => (line.trim() ? [line.trim().split(/\s+/).map(Number)] : []));
  const fit = fitLeastSquares(([b0, b1]) => rows.map(([y, x]) => b0 + b1 * x - y), [0, 1], {
    jacobian: () => rows.map(([, x]) => [1, x]),
  });

  // Source: NIST StRD Norris, certified to 15 digits.
  it('through Norris has the certified intercept, slope and their SDs to 9 digits', () => {
    const sd = Math.sqrt(fit.rss / 34);
    expect(sharedDigits(fit.parameters[0], -0.262323073774029)).toBeGreaterThan(9);
    expect(sharedDigits(fit.parameters[1], 1.00211681802045)).toBeGreaterThan(9);
    expect(sharedDigits(sd, 0.884796396144373)).toBeGreaterThan(9);
    expect(sharedDigits(sd * Math.sqrt(fit.covariance![0][0]), 0.232818234301152)).toBeGreaterThan(9);
    expect(sharedDigits(sd * Math.sqrt(fit.covariance![1][1]), 0.000429796848199937)).toBeGreaterThan(9);
  });

  // Source: simple-statistics as an independent implementation.
  it('through Norris is simple-statistics’ line to 9 digits', () => {
    const line = linearRegression(rows.map(([y, x]) => [x, y]));
    expect(sharedDigits(fit.parameters[0], line.b)).toBeGreaterThan(9);
    expect(sharedDigits(fit.parameters[1], line.m)).toBeGreaterThan(9);
  });
});

describe('a search that cannot succeed', () => {
  it('says so where two parameters do the same', () => {
    const fit = fitLeastSquares(([a, b]) => [a + b - 1, a + b - 2, a + b - 4], [0, 0]);
    expect(fit.covariance).toBeNull();
    expect(fit.converged).toBe(false);
    expect(fit.parameters[0] + fit.parameters[1]).toBeCloseTo(7 / 3, 9);
  });

  it('says so where it is stopped after 2 of the steps it needs', () => {
    const set = readStrd('MGH09');
    const residuals = (b: readonly number[]) => set.x.map((x, i) => strdModels.MGH09(x, b) - set.y[i]);
    expect(fitLeastSquares(residuals, set.starts[0], { maxIterations: 2 }).converged).toBe(false);
  });

  it('says so where the least lies at infinity', () => {
    const fit = fitLeastSquares(([a]) => [Math.exp(-a), 2 * Math.exp(-a)], [0], { maxIterations: 40 });
    expect(fit.rss).toBeLessThan(1e-6);
    expect(fit.parameters[0]).toBeGreaterThan(5);
  });

  it('stays put where the start is not allowed', () => {
    const fit = fitLeastSquares(([a]) => [Math.sqrt(a), 1], [-1]);
    expect(fit.converged).toBe(false);
    expect(fit.rss).toBe(Number.POSITIVE_INFINITY);
  });

  it('steps back from parameters that are not allowed: √a to 3 from a = 1 ends at a = 9', () => {
    const fit = fitLeastSquares(([a]) => [Math.sqrt(a) - 3], [1]);
    expect(fit.parameters[0]).toBeCloseTo(9, 6);
  });
});

describe('several starts', () => {
  it('find the deeper of two valleys, at 3 rather than −2', () => {
    const residuals = ([a]: readonly number[]) => [(a - 3) * (a + 2), 0.2 * (a - 3)];
    expect(fitLeastSquares(residuals, [-2.5]).parameters[0]).toBeLessThan(0);
    expect(fitFromMany(residuals, [[-2.5], [1]]).parameters[0]).toBeCloseTo(3, 6);
  });
});
