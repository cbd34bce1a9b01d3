import { expect, test } from 'vitest';
import { findStrip } from '../../../analysis/locate/findStrip.ts';
import { flatQuads } from '../../../analysis/locate/flatQuads.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { overlapShare } from '../../../analysis/locate/quadGeometry.ts';
import { tightenFrame } from '../../../analysis/locate/tightenFrame.ts';
import { cornersApart, fieldOf, grey, painted, rowOfBoxes, turnedBox } from './paintedField.ts';
import { blue, type PaintedStrip, stripOf } from './paintedStrip.ts';

const neutral = { redGreen: 0, blueGreen: 0 };
/** Times that double, from 10 s on; the first 0 where there is a base. */
const times = (count: number, hasBase: boolean): number[] =>
  Array.from({ length: count }, (_, i) => (hasBase ? (i === 0 ? 0 : 5 * 2 ** i) : 10 * 2 ** i));
const find = ({ patches, steps }: PaintedStrip, table = grey(0.3), hasBase = false) => {
  const field = fieldOf(painted(640, 480, table, patches));
  return findStrip(field, flatQuads(field), { seconds: times(steps.length, hasBase), neutral })!;
};

function expectInPlace(found: readonly Quad[], truth: readonly Quad[], least: number): void {
  expect(found.length).toBe(truth.length);
  found.forEach((quad, i) => {
    expect(overlapShare(quad, truth[i])).toBeGreaterThan(least);
  });
}

const rising = [0, 0.12, 0.25, 0.4, 0.6, 0.85];

test.each([0, 33, 90, 200])(
  'six steps of 40 px turned by %i° overlap the true ones by more than 85 %',
  (degrees) => {
    const strip = stripOf(rising, [320, 240], degrees, 0);
    const found = find(strip);
    expect(found.pieces).toBe('one');
    expect(found.seenShare).toBe(1);
    expectInPlace(found.steps, strip.steps, 0.85);
  },
);

test('a strip that lies with its longest exposure first is returned in rising exposure', () => {
  const strip = stripOf([...rising].reverse(), [320, 240], 10, 0);
  expectInPlace(find(strip).steps, [...strip.steps].reverse(), 0.85);
});

test('an unexposed step that runs into its margin of 12 px is placed by the width of the others', () => {
  const strip = stripOf(rising, [320, 240], -15, 12);
  expectInPlace(find(strip).steps, strip.steps, 0.7);
});

test.each([
  [0, 25],
  [30, 0],
  [70, 18],
])(
  'six steps with %i px of bare cloth before the first and %i px after the last are placed between them',
  (before, after) => {
    const strip = stripOf(rising, [320, 240], 8, 0);
    const cloth = turnedBox(
      [
        320 + ((after - before) / 2) * Math.cos((8 * Math.PI) / 180),
        240 + ((after - before) / 2) * Math.sin((8 * Math.PI) / 180),
      ],
      240 + before + after,
      80,
      8,
    );
    const found = find(
      { ...strip, patches: [{ quad: cloth, colour: blue(0) }, ...strip.patches] },
      grey(0.3),
      true,
    );
    expectInPlace(found.steps, strip.steps, 0.85);
    expect(found.placeOdds).toBeGreaterThan(2);
  },
);

test('five or seven steps declared where there are six are less likely than six by more than 2 nats', () => {
  const { patches } = stripOf(rising, [320, 240], 0, 10);
  const field = fieldOf(painted(640, 480, grey(0.3), patches));
  const found = findStrip(field, flatQuads(field), { seconds: times(6, true), neutral })!;
  expect(found.countOdds[0]).toBeGreaterThan(2);
  expect(found.countOdds[1]).toBeGreaterThan(2);
  const declared = (count: number) =>
    findStrip(field, flatQuads(field), { seconds: times(count, true), neutral })!;
  expect(declared(5).countOdds[1]).toBeLessThan(-2);
  expect(declared(7).countOdds[0]).toBeLessThan(-2);
});

test('a plateau of three steps at full depth is divided by the width of the others', () => {
  const strip = stripOf([0, 0.2, 0.45, 0.9, 0.9, 0.9], [320, 240], 5, 0);
  const found = find(strip);
  expect(found.seenShare).toBeCloseTo(3 / 5, 9);
  expectInPlace(found.steps, strip.steps, 0.8);
});

test('a yellow that hardly darkens runs the way its colour builds up', () => {
  const strip = stripOf(rising, [320, 240], 5, 0);
  const yellow = strip.patches.map((p, i) => ({
    ...p,
    colour: [0.64, 0.62, 0.58 * Math.exp(-2.5 * (i === 0 ? 0 : rising[i - 1]))] as const,
  }));
  expectInPlace(find({ ...strip, patches: yellow }).steps, strip.steps, 0.85);
});

test('eight scraps in two rows are found in reading order, the palest missing its outline', () => {
  const depths = [0.02, 0.1, 0.2, 0.3, 0.45, 0.6, 0.75, 0.95];
  const places = [...rowOfBoxes([320, 160], 4, 90, 66, 80, 2), ...rowOfBoxes([320, 270], 4, 90, 66, 80, 1)];
  // The table is as pale as the first scrap.
  const table = blue(0);
  const found = find(
    { patches: places.map((quad, i) => ({ quad, colour: blue(depths[i]) })), steps: places },
    table,
  );
  expect(found.pieces).toBe('scraps');
  expectInPlace(found.steps.slice(1), places.slice(1), 0.8);
  expect(overlapShare(found.steps[0], places[0])).toBeGreaterThan(0.6);
});

test('a strip of one tone leaves its direction open: less than 1 nat between both ways', () => {
  expect(find(stripOf([0.5, 0.5, 0.5, 0.5], [320, 240], 0, 0)).directionOdds).toBeLessThan(1);
});

test('an empty table has no strip', () => {
  const field = fieldOf(painted(640, 480, grey(0.3), []));
  expect(findStrip(field, flatQuads(field), { seconds: times(5, true), neutral })).toBeUndefined();
});

test('a band 20 px too wide on either side is brought in to the dyed area within 2 px', () => {
  const strip = stripOf([0.4, 0.6, 0.8], [320, 240], 12, 16);
  const field = fieldOf(painted(640, 480, grey(0.3), strip.patches));
  const tight = tightenFrame(field, turnedBox([320, 240], 120, 120, 12));
  expect(cornersApart(tight, turnedBox([320, 240], 120, 80, 12))).toBeLessThan(2);
});
