import { expect, test } from 'vitest';
import type { Profile } from '../../../analysis/locate/changePoints.ts';
import { paleEnd } from '../../../analysis/locate/paleEnd.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';

/** Runs of 20 samples, one level each, noise 0.004; nothing but cloth. */
const profileOf = (levels: readonly number[], falls = 0): Profile => {
  const random = normalNumbers(7);
  const light = Float64Array.from(
    levels.flatMap((level) => Array.from({ length: 20 }, () => level + 0.004 * random())),
    (value, i) => value - falls * i,
  );
  return {
    planes: [light, new Float64Array(light.length), new Float64Array(light.length)],
    paleness: light,
    weights: new Float64Array(light.length).fill(1),
    strange: new Float64Array(light.length),
    cloth: new Float64Array(light.length).fill(1),
    noise: [0.01, 0.012, 0.016],
    correlated: 4,
    maxSlope: 0.002,
  };
};
/** Borders of `count` steps of 20 samples from sample `at` on. */
const stepsFrom = (at: number, count: number) => ({
  borders: Array.from({ length: count + 1 }, (_, k) => at + 20 * k),
  darker: 1 as const,
});
const doubling = (count: number): number[] => [
  0,
  ...Array.from({ length: count - 1 }, (_, i) => 10 * 2 ** i),
];

test('bare cloth as pale as the unexposed step speaks neither for a step more nor for one fewer', () => {
  const profile = profileOf([0, 0, -0.2, -0.5, -0.9]);
  expect(paleEnd(profile, stepsFrom(20, 4), doubling(4), 20)).toEqual({ fewer: -0, more: -0 });
});

test('cloth 0.15 ln paler than the step that is said to be unexposed speaks for a step left out, by over 3 nats', () => {
  const profile = profileOf([0, -0.15, -0.4, -0.7, -1]);
  const { more, fewer } = paleEnd(profile, stepsFrom(20, 4), doubling(4), 20);
  expect(more).toBeLessThan(-3);
  expect(fewer).toBeCloseTo(0, 9);
});

test('light that falls by 0.002 ln a sample is not taken for a step left out', () => {
  const profile = profileOf([0, 0, -0.2, -0.5, -0.9], 0.002);
  expect(paleEnd(profile, stepsFrom(20, 4), doubling(4), 20).more).toBeCloseTo(0, 9);
});

test('a step without dye at 10 s and 0.4 ln of it at 20 s speaks for a step fewer, by over 3 nats', () => {
  const profile = profileOf([0, 0, -0.4, -0.7, -1]);
  expect(paleEnd(profile, stepsFrom(0, 5), doubling(5), 0).fewer).toBeLessThan(-3);
});

test('the same where the next step had 16 times the light says nothing', () => {
  const profile = profileOf([0, 0, -0.4, -0.7, -1]);
  expect(paleEnd(profile, stepsFrom(0, 5), [0, 10, 160, 320, 640], 0).fewer).toBeCloseTo(0, 9);
});

test('steps that run the other way are looked at from their own pale end', () => {
  const levels = [-1, -0.7, -0.4, -0.15, 0];
  const steps = { ...stepsFrom(0, 4), darker: -1 as const };
  expect(paleEnd(profileOf(levels), steps, doubling(4), 20).more).toBeLessThan(-3);
});

test('a strip without an unexposed step says nothing of its count', () => {
  const profile = profileOf([0, -0.15, -0.4, -0.7, -1]);
  expect(paleEnd(profile, stepsFrom(20, 4), [10, 20, 40, 80], 20)).toEqual({ fewer: 0, more: 0 });
});
