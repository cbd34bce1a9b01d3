import { quantileSorted } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { curveBand } from '../../../analysis/across/band.ts';
import { compareDyes } from '../../../analysis/across/compare.ts';
import { bootstrapCurve } from '../../../analysis/curve/bootstrap.ts';
import { runs } from '../../helpers/runs.ts';
import { INDIGO, knownCurve, knownL, knownShape } from './knownCurve.ts';
import { noisyStrip } from './noise.ts';

const curve = knownCurve(INDIGO);

describe('the band of a curve from 15 s to 16 min', () => {
  test('runs from 11.5 s to 20 min 48 s at 33 times, each the same ratio past the one before', () => {
    const band = curveBand({ curve, set: bootstrapCurve(curve, { count: 50 }) });
    expect(band).toHaveLength(33);
    expect(band[0].seconds).toBeCloseTo(15 / 1.3, 9);
    expect(band[32].seconds).toBeCloseTo(960 * 1.3, 6);
    const ratios = band.slice(1).map(({ seconds }, i) => seconds / band[i].seconds);
    for (const ratio of ratios) expect(ratio).toBeCloseTo(ratios[0], 9);
  });

  test('has the 5th and 95th percentile of known draws: 101 curves whose dye ends at L* 25.0 to 35.0', () => {
    const shapes = Array.from({ length: 101 }, (_, i) => knownShape({ ...INDIGO, deepestL: 25 + i / 10 }));
    for (const { seconds, L, low, high } of curveBand({ curve, set: { seed: 1, shapes } })) {
      // simple-statistics: its quantile of the same values, between neighbours by the same rule where it falls on one.
      const sorted = Array.from({ length: 101 }, (_, i) =>
        knownL({ ...INDIGO, deepestL: 25 + i / 10 }, seconds),
      ).sort((a, b) => a - b);
      expect(L).toBeCloseTo(knownL(INDIGO, seconds), 9);
      expect(low).toBeCloseTo(quantileSorted(sorted, 0.05), 1);
      expect(high).toBeCloseTo(quantileSorted(sorted, 0.95), 1);
    }
  });

  test('never leaves its own curve out, also where every other curve ends 5 L* deeper', () => {
    const shapes = [knownShape({ ...INDIGO, deepestL: 25 })];
    for (const { L, low, high } of curveBand({ curve, set: { seed: 1, shapes } })) {
      expect(high).toBe(L);
      expect(low).toBeLessThan(L);
    }
  });
});

const STRIPS = runs('strips with a band', 60, 20);

test('holds the true L* at nine times in ten (80 to 97 %) over strips read with ±0.5 L*, and is at most 2 L* wide within them', () => {
  let [inside, all, widest] = [0, 0, 0];
  for (let seed = 1; seed <= STRIPS; seed++)
    for (const { seconds, low, high } of curveBand(noisyStrip(INDIGO, 0.5, seed))) {
      const truth = knownL(INDIGO, seconds);
      all++;
      if (truth >= low && truth <= high) inside++;
      if (seconds >= 30 && seconds <= 480) widest = Math.max(widest, high - low);
    }
  expect(all).toBe(STRIPS * 33);
  expect(inside / all).toBeGreaterThan(0.8);
  expect(inside / all).toBeLessThan(0.97);
  expect(widest).toBeLessThan(2);
});

test('a comparison brings a band for each dye, in their order', () => {
  const dye = (name: string, deepestL: number) => {
    const one = knownCurve({ ...INDIGO, deepestL });
    return { name, cloth: 'silk', light: 'tubes', curve: one, set: bootstrapCurve(one, { count: 50 }) };
  };
  const compared = compareDyes([dye('indigo', 30), dye('weld', 60)]);
  if (compared.kind !== 'compared') throw new Error(compared.reason);
  expect(compared.bands.map((band) => Math.round(band[32].L))).toEqual([
    Math.round(knownL(INDIGO, 1248)),
    Math.round(knownL({ ...INDIGO, deepestL: 60 }, 1248)),
  ]);
});
