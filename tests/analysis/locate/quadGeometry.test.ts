import { expect, test } from 'vitest';
import type { Quad } from '../../../analysis/locate/marks.ts';
import {
  clockwise,
  containsPoint,
  crossing,
  isConvex,
  overlapShare,
  quadCentre,
  sharedArea,
  sideLengths,
  signedArea,
} from '../../../analysis/locate/quadGeometry.ts';
import { turnedBox } from './paintedField.ts';

const box: Quad = [
  [0, 0],
  [4, 0],
  [4, 2],
  [0, 2],
];

test('a box of 4 × 2 px has an area of 8 px², positive as it runs clockwise on screen', () => {
  expect(signedArea(box)).toBe(8);
  expect(signedArea([...box].reverse())).toBe(-8);
  expect(sideLengths(box)).toEqual([4, 2]);
  expect(quadCentre(box)).toEqual([2, 1]);
});

test('a quad that runs the other way is turned round and keeps its first corner', () => {
  expect(
    clockwise([
      [0, 0],
      [0, 2],
      [4, 2],
      [4, 0],
    ]),
  ).toEqual(box);
  expect(clockwise(box)).toBe(box);
});

test('two boxes shifted by half their length share a third of both together', () => {
  const shifted: Quad = [
    [2, 0],
    [6, 0],
    [6, 2],
    [2, 2],
  ];
  expect(sharedArea(box, shifted)).toBeCloseTo(4, 12);
  expect(overlapShare(box, shifted)).toBeCloseTo(1 / 3, 12);
});

test('a square and the same turned by 45° share the regular octagon, 2(√2 − 1) of its area', () => {
  const square = turnedBox([0, 0], 2, 2, 0);
  expect(sharedArea(square, turnedBox([0, 0], 2, 2, 45))).toBeCloseTo(4 * 2 * (Math.SQRT2 - 1), 9);
});

test('boxes apart share nothing', () => {
  expect(
    sharedArea(box, [
      [10, 10],
      [12, 10],
      [12, 12],
      [10, 12],
    ]),
  ).toBe(0);
});

test('a bow tie and an arrowhead are not convex, a box is', () => {
  expect(isConvex(box)).toBe(true);
  expect(
    isConvex([
      [0, 0],
      [4, 2],
      [4, 0],
      [0, 2],
    ]),
  ).toBe(false);
  expect(
    isConvex([
      [0, 0],
      [4, 0],
      [1, 1],
      [0, 4],
    ]),
  ).toBe(false);
});

test('(1, 1) lies in the box and (5, 1) does not, whichever way the box runs', () => {
  for (const quad of [box, [...box].reverse()]) {
    expect(containsPoint(quad, [1, 1])).toBe(true);
    expect(containsPoint(quad, [5, 1])).toBe(false);
  }
});

test('the diagonals of the box cross at (2, 1); its long sides do not cross', () => {
  expect(crossing(box[0], box[2], box[1], box[3])).toEqual([2, 1]);
  expect(crossing(box[0], box[1], box[3], box[2])).toBeUndefined();
});
