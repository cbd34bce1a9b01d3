import { expect, test } from 'vitest';
import { cutting, type Profile, type StepPrior, splitSteps } from '../../../analysis/locate/changePoints.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';
import { nile } from './nile.ts';

function profileOf(light: readonly number[], noise: number): Profile {
  const plane = Float64Array.from(light);
  return {
    planes: [plane],
    paleness: plane,
    weights: new Float64Array(light.length).fill(1),
    strange: new Float64Array(light.length),
    cloth: new Float64Array(light.length).fill(1),
    noise: [noise],
    correlated: 1,
    maxSlope: 0,
  };
}

const prior: StepPrior = {
  count: 5,
  widthSpread: 0.13,
  widths: [16, 18, 20, 22, 24],
  outsideCost: 4,
  strangeCost: 6,
  reversalCost: 4,
};

/** Runs of one level each, with noise. */
function runs(levels: readonly (readonly [level: number, samples: number])[], noise: number): number[] {
  const random = normalNumbers(3);
  return levels.flatMap(([level, samples]) =>
    Array.from({ length: samples }, () => level + noise * random()),
  );
}

test('the flow of the Nile shifts after 28 years, with 1 597 457.19 left of the squares', () => {
  const { piece } = cutting(profileOf(nile, 1));
  const squares = (i: number, j: number) => 2 * piece[j * 101 + i];
  expect(squares(0, 100)).toBeCloseTo(2835156.75, 2);
  const split = Array.from({ length: 99 }, (_, k) => squares(0, k + 1) + squares(k + 1, 100));
  expect(split.indexOf(Math.min(...split)) + 1).toBe(28);
  expect(Math.min(...split)).toBeCloseTo(1597457.19, 2);
});

test('five steps of 20 samples between table and table are cut at 30, 50, 70, 90, 110 and 130', () => {
  const light = runs(
    [
      [-0.4, 30],
      [-0.2, 20],
      [-0.5, 20],
      [-0.9, 20],
      [-1.3, 20],
      [-1.6, 20],
      [-0.4, 30],
    ],
    0.02,
  );
  const split = splitSteps(cutting(profileOf(light, 0.02)), prior, 1)!;
  expect(split.borders).toEqual([30, 50, 70, 90, 110, 130]);
});

test('steps that cannot be told apart are placed by the width of the others: a plateau of three at 70 to 130', () => {
  const light = runs(
    [
      [-0.4, 30],
      [-0.2, 20],
      [-0.9, 20],
      [-1.6, 60],
      [-0.4, 30],
    ],
    0.02,
  );
  const split = splitSteps(cutting(profileOf(light, 0.02)), prior, 1)!;
  [30, 50, 70, 90, 110, 130].forEach((border, i) => {
    expect(Math.abs(split.borders[i] - border)).toBeLessThanOrEqual(2);
  });
});

test('steps of 14, 20 and 27 samples are found where they are when they can be seen', () => {
  const light = runs(
    [
      [-0.4, 30],
      [-0.2, 14],
      [-0.5, 27],
      [-0.9, 20],
      [-1.3, 20],
      [-1.6, 20],
      [-0.4, 30],
    ],
    0.02,
  );
  const split = splitSteps(cutting(profileOf(light, 0.02)), prior, 1)!;
  expect(split.borders).toEqual([30, 44, 71, 91, 111, 131]);
});

test('a strip that gets lighter costs more than 20 nats extra when read as one that gets darker', () => {
  const light = runs(
    [
      [-0.4, 30],
      [-1.6, 20],
      [-1.3, 20],
      [-0.9, 20],
      [-0.5, 20],
      [-0.2, 20],
      [-0.4, 30],
    ],
    0.02,
  );
  const cut = cutting(profileOf(light, 0.02));
  expect(splitSteps(cut, prior, 1)!.cost - splitSteps(cut, prior, -1)!.cost).toBeGreaterThan(20);
});

test('light that falls by 0.002 per sample along the strip moves no border', () => {
  const even = runs(
    [
      [-0.4, 30],
      [-0.2, 20],
      [-0.5, 20],
      [-0.9, 20],
      [-1.3, 20],
      [-1.6, 20],
      [-0.4, 30],
    ],
    0.01,
  );
  const falling = even.map((light, i) => light - 0.002 * i);
  const split = splitSteps(cutting({ ...profileOf(falling, 0.01), maxSlope: 0.003 }), prior, 1)!;
  expect(split.borders).toEqual([30, 50, 70, 90, 110, 130]);
});

test('a bare margin of 3 samples between two tones is an end of the strip, not a border of steps', () => {
  const light = runs(
    [
      [-0.9, 40],
      [0, 3],
      [-1.0, 20],
      [-1.3, 20],
      [-1.6, 20],
      [-1.9, 20],
      [-2.2, 20],
      [-0.9, 20],
    ],
    0.02,
  );
  const split = splitSteps(cutting(profileOf(light, 0.02)), prior, 1)!;
  expect(split.borders).toEqual([43, 63, 83, 103, 123, 143]);
});

test('a profile too short for the steps cannot be split', () => {
  expect(splitSteps(cutting(profileOf(runs([[0, 20]], 0.01), 0.01)), prior, 1)).toBeUndefined();
});
