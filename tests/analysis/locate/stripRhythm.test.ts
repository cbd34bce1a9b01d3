import { describe, expect, it } from 'vitest';
import { cutting, type Profile } from '../../../analysis/locate/changePoints.ts';
import { fitRhythm, type RhythmPrior } from '../../../analysis/locate/stripRhythm.ts';
import { normalNumbers } from '../tiles/normalNumbers.ts';

const TABLE = -3;

/** Runs of one level each; what lies at TABLE is table, the rest cloth. Noise 0.01. */
function profileOf(runs: readonly (readonly [level: number, samples: number])[]): Profile {
  const random = normalNumbers(5);
  const light = Float64Array.from(
    runs.flatMap(([level, samples]) => Array.from({ length: samples }, () => level + 0.01 * random())),
  );
  const table = Float64Array.from(
    runs.flatMap(([level, samples]) => new Array(samples).fill(level === TABLE ? 1 : 0)),
  );
  return {
    planes: [light],
    paleness: light,
    weights: new Float64Array(light.length).fill(1),
    strange: table,
    cloth: table.map((share) => 1 - share),
    noise: [0.01],
    correlated: 4,
    maxSlope: 0,
  };
}

const prior = (count: number, hasBase = true): RhythmPrior => ({
  count,
  pitches: Array.from({ length: 13 }, (_, i) => 14 + i),
  borderSpread: 0.06,
  outsideCost: 4,
  marginCost: 1,
  reversalCost: 4,
  strangeCost: 6,
  unclaimedCost: 16,
  coincidenceCost: 3,
  hasBase,
});
const rhythmOf = (profile: Profile, count: number, hasBase = true) =>
  fitRhythm(cutting(profile), prior(count, hasBase), 2)!;

/** Five steps of 20 samples, the first as pale as bare cloth, from sample `at` on. */
const steps = [0, -0.2, -0.4, -0.6, -0.8].map((level) => [level, 20] as const);
const borders = (at: number) => [0, 1, 2, 3, 4, 5].map((k) => at + 20 * k);
const near = (found: readonly number[], truth: readonly number[]) => {
  expect(found.length).toBe(truth.length);
  found.forEach((border, k) => {
    expect(Math.abs(border - truth[k])).toBeLessThanOrEqual(3);
  });
};

describe('steps of 20 samples', () => {
  it('between table on both sides begin and end at the cloth', () => {
    const found = rhythmOf(profileOf([[TABLE, 25], ...steps, [TABLE, 25]]), 5);
    near(found.best.borders, borders(25));
    expect(found.best.darker).toBe(1);
    expect(found.placeOdds).toBeGreaterThan(4);
    expect(found.directionOdds).toBeGreaterThan(4);
  });

  it.each([5, 9, 15, 32])('with %i samples of bare cloth at either end lie between the margins', (margin) => {
    const found = rhythmOf(profileOf([[TABLE, 20], [0, margin], ...steps, [0, margin], [TABLE, 20]]), 5);
    near(found.best.borders, borders(20 + margin));
    expect(found.lightMargin).toBeCloseTo(margin / 20, 0);
  });

  it('in falling lightness read against the profile are found as such', () => {
    const found = rhythmOf(profileOf([[TABLE, 25], ...[...steps].reverse(), [TABLE, 25]]), 5);
    expect(found.best.darker).toBe(-1);
    near(found.best.borders, borders(25));
  });

  it('at full depth from the third on are divided by the rhythm', () => {
    const plateau = [0, -0.4, -0.8, -0.8, -0.8].map((level) => [level, 20] as const);
    near(rhythmOf(profileOf([[TABLE, 25], ...plateau, [TABLE, 25]]), 5).best.borders, borders(25));
  });

  it('with a border 3 samples out of the rhythm are cut at it', () => {
    const [a, b, c, d, e] = steps;
    const uneven = [a, [b[0], 23], [c[0], 17], d, e] as const;
    const found = rhythmOf(profileOf([[TABLE, 25], ...uneven, [TABLE, 25]]), 5);
    near(found.best.borders, [25, 45, 68, 85, 105, 125]);
    expect(Math.abs(found.best.borders[2] - 68)).toBeLessThanOrEqual(1);
  });
});

describe('another number than five', () => {
  const plain = profileOf([[TABLE, 30], ...steps, [TABLE, 30]]);
  it.each([4, 6])('%i, explains five steps worse by more than 2 nats', (count) => {
    expect(rhythmOf(plain, 5).evidence - rhythmOf(plain, count).evidence).toBeGreaterThan(2);
  });
  it('one fewer leaves dyed cloth unclaimed, margins or not', () => {
    const bordered = profileOf([[TABLE, 20], [0, 12], ...steps, [0, 12], [TABLE, 20]]);
    expect(rhythmOf(bordered, 5).evidence - rhythmOf(bordered, 4).evidence).toBeGreaterThan(2);
  });
});

it('where the first step had no exposure, no paler cloth lies beside it: the strip begins a step further out', () => {
  // Bare cloth as long as a step, then four dyed steps: with a base it is the first of five, without one a margin.
  const dyed = steps.slice(1);
  const cloth = profileOf([[TABLE, 30], [0, 26], ...dyed, [TABLE, 30]]);
  const withBase = rhythmOf(cloth, 4, true);
  const without = rhythmOf(cloth, 4, false);
  near(without.best.borders, [56, 76, 96, 116, 136]);
  expect(without.evidence - withBase.evidence).toBeGreaterThan(2);
});

it('a profile too short for the steps has no answer', () => {
  expect(fitRhythm(cutting(profileOf([[0, 40]])), prior(5), 2)).toBeUndefined();
});
