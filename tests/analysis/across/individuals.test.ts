import fc from 'fast-check';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { individualsChart } from '../../../analysis/across/individuals.ts';
import { runSignals } from '../../../analysis/across/runRules.ts';

// NIST/SEMATECH e-Handbook 6.3.2.2, individuals control charts: the flow-rate example of ten batches.
const NIST = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

describe('individuals and moving range, NIST/SEMATECH 6.3.2.2', () => {
  const chart = individualsChart(NIST);

  test('mean 50.81, mean range 1.8778, limits 45.8159 and 55.8041', () => {
    expect(chart.mean).toBeCloseTo(50.81, 10);
    expect(chart.meanMovingRange).toBeCloseTo(1.8778, 4);
    expect(chart.upper).toBeCloseTo(55.8041, 4);
    expect(chart.lower).toBeCloseTo(45.8159, 4);
  });

  // 3.267 mean ranges (Montgomery); computed.
  test('the range may go up to 6.135, and no value or range is beyond', () => {
    expect(chart.movingRangeUpper).toBeCloseTo(6.135, 3);
    expect(chart.rangeSignals).toEqual([]);
    expect(chart.signals.filter((signal) => signal.rule === 'beyond-limits')).toEqual([]);
  });

  test('the limits lie 2.66 mean ranges from the mean, to the two decimals of the constant', () => {
    expect((chart.upper - chart.mean) / chart.meanMovingRange).toBeCloseTo(2.66, 2);
  });

  test('simple-statistics gives the same mean and mean range', () => {
    expect(chart.mean).toBeCloseTo(mean(NIST), 12);
    expect(chart.meanMovingRange).toBeCloseTo(mean(NIST.slice(1).map((v, i) => Math.abs(v - NIST[i]))), 12);
  });

  test('ten values are provisional, twenty a baseline that later values do not move', () => {
    expect(chart.state).toBe('provisional');
    const twenty = [...NIST, ...NIST];
    const later = individualsChart([...twenty, 80, 80]);
    expect(later.state).toBe('baseline');
    expect(later.mean).toBe(individualsChart(twenty).mean);
    expect(later.signals.filter((s) => s.rule === 'beyond-limits').map((s) => s.index)).toEqual([20, 21]);
    expect(later.rangeSignals).toEqual([20]);
  });
});

test('on independent normal values the moving range sees the standard deviation within 12 % (20 000 values)', () => {
  // Sum of twelve uniforms minus six from a fixed linear congruential sequence: near normal, standard deviation 1.
  let state = 12345;
  const uniform = () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  const values = Array.from({ length: 20_000 }, () =>
    Array.from({ length: 12 }, uniform).reduce((s, v) => s + v, -6),
  );
  const sigmas = Array.from(
    { length: 1000 },
    (_, i) => individualsChart(values.slice(20 * i, 20 * i + 20)).sigma,
  );
  expect(Math.abs(mean(sigmas) / sampleStandardDeviation(values) - 1)).toBeLessThan(0.12);
});

describe('run rules on mean 0, standard deviation 1', () => {
  const rules = (values: number[]) => runSignals(values, 0, 1).map((s) => `${s.rule} ${s.index} ${s.side}`);

  test('one value at 3.01 is beyond, at 3 it is not', () => {
    expect(rules([0, 3.01])).toEqual(['beyond-limits 1 high']);
    expect(rules([0, 3])).toEqual([]);
  });

  test('two of three at −2.1 tell at the second, on the low side', () => {
    expect(rules([-2.1, 0, -2.1])).toEqual(['two-of-three 2 low']);
    expect(rules([-2.1, 0, 0, -2.1])).toEqual([]);
    expect(rules([-2.1, 2.1])).toEqual([]);
  });

  test('four of five at 1.1 tell at the fourth, and a value back inside tells nothing', () => {
    expect(rules([1.1, 1.1, 0, 1.1, 1.1])).toEqual(['four-of-five 4 high']);
    expect(rules([1.1, 1.1, 1.1, 1.1, 0])).toEqual(['four-of-five 3 high']);
  });

  test('eight at 0.1 in a row tell at the eighth; one on the mean breaks the run', () => {
    expect(rules(Array(8).fill(0.1))).toEqual(['eight-on-one-side 7 high']);
    expect(rules([...Array(7).fill(0.1), 0, 0.1])).toEqual([]);
  });

  test('values that never change tell nothing with a deviation of 0', () => {
    expect(runSignals(Array(30).fill(5), 5, 0)).toEqual([]);
  });

  // Champ & Woodall 1987, quoted second-hand: all four rules together alarm once in 91.75 values.
  test('on steady normal values a fresh alarm comes about once in 92 values', () => {
    let state = 987654321n;
    const next = () => {
      state = (state * 6364136223846793005n + 1442695040888963407n) & ((1n << 64n) - 1n);
      return (Number(state >> 33n) + 0.5) / 2 ** 31;
    };
    let runs = 0;
    let total = 0;
    while (runs < 2000) {
      const values: number[] = [];
      let length = 0;
      while (length === 0) {
        values.push(Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next()));
        const last = values.length - 1;
        const recent = values.slice(-8);
        if (runSignals(recent, 0, 1).some((s) => s.index === recent.length - 1)) length = last + 1;
      }
      total += length;
      runs++;
    }
    // The run length is about as scattered as it is long, so 2000 runs give it within 2.2 % (one standard error).
    expect(total / runs / 91.75).toBeGreaterThan(0.92);
    expect(total / runs / 91.75).toBeLessThan(1.08);
  });
});

test('a chart is the same in other units: limits scale and shift with the values', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 8, maxLength: 40 }),
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      fc.double({ min: -100, max: 100, noNaN: true }),
      (values, factor, offset) => {
        const one = individualsChart(values);
        const other = individualsChart(values.map((v) => v * factor + offset));
        expect(other.upper).toBeCloseTo(one.upper * factor + offset, 6);
        expect(other.lower).toBeCloseTo(one.lower * factor + offset, 6);
      },
    ),
  );
});

test.each([[[]], [[1, 2, 3, 4, 5, 6, 7]], [[1, 2, 3, 4, 5, 6, 7, Number.NaN]]])(
  'refuses to chart %j',
  (values) => {
    expect(() => individualsChart(values)).toThrowError(
      expect.objectContaining({ code: 'comparison-invalid' }),
    );
  },
);
