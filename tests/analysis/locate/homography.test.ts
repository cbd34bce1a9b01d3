import { expect, test } from 'vitest';
import {
  fitHomography,
  inverse,
  patchOf,
  project,
  unitSquareTo,
} from '../../../analysis/locate/homography.ts';
import type { Point, Quad } from '../../../analysis/locate/marks.ts';

const seen: Quad = [
  [120, 80],
  [520, 140],
  [480, 410],
  [90, 330],
];

test('the unit square lands corner for corner on a quad seen in perspective', () => {
  const h = unitSquareTo(seen)!;
  const corners = [project(h, 0, 0), project(h, 1, 0), project(h, 1, 1), project(h, 0, 1)];
  corners.forEach(([x, y], i) => {
    expect(x).toBeCloseTo(seen[i][0], 9);
    expect(y).toBeCloseTo(seen[i][1], 9);
  });
});

test('the middle of the square lands where the diagonals cross', () => {
  // Projections keep straight lines straight (elementary projective geometry), so the crossing is the middle's image.
  const [x, y] = project(unitSquareTo(seen)!, 0.5, 0.5);
  const along = (p: Point, q: Point) => (x - p[0]) * (q[1] - p[1]) - (y - p[1]) * (q[0] - p[0]);
  expect(along(seen[0], seen[2])).toBeCloseTo(0, 6);
  expect(along(seen[1], seen[3])).toBeCloseTo(0, 6);
});

test('four points on a line keep their cross-ratio of 4/3', () => {
  // Invariance of the cross-ratio: Pappus; Hartley and Zisserman, Multiple View Geometry, §2.5 (from memory).
  const h = unitSquareTo(seen)!;
  const at = [0, 0.25, 0.5, 0.75].map((u) => project(h, u, 0.3));
  const far = (i: number, j: number) => Math.hypot(at[i][0] - at[j][0], at[i][1] - at[j][1]);
  expect((far(0, 2) * far(1, 3)) / (far(0, 3) * far(1, 2))).toBeCloseTo(4 / 3, 9);
});

test('a projection and its inverse bring (0.2, 0.7) back', () => {
  const h = unitSquareTo(seen)!;
  const [u, v] = project(inverse(h)!, ...project(h, 0.2, 0.7));
  expect(u).toBeCloseTo(0.2, 9);
  expect(v).toBeCloseTo(0.7, 9);
});

test('least squares over 12 exact pairs returns the projection that made them', () => {
  const h = unitSquareTo(seen)!;
  const from = Array.from({ length: 12 }, (_, i): Point => [(i % 4) / 3, Math.floor(i / 4) / 2]);
  const fitted = fitHomography(
    from,
    from.map(([u, v]) => project(h, u, v)),
  )!;
  fitted.forEach((value, i) => {
    expect(value).toBeCloseTo(h[i], 6);
  });
});

test('three pairs, a line of pairs and a flat quad determine nothing', () => {
  const line: Point[] = [0, 1, 2, 3, 4].map((x) => [x, x]);
  expect(fitHomography(line.slice(0, 3), line.slice(0, 3))).toBeUndefined();
  expect(fitHomography(line, line)).toBeUndefined();
  expect(
    unitSquareTo([
      [0, 0],
      [1, 1],
      [2, 2],
      [3, 3],
    ]),
  ).toBeUndefined();
});

test('the left half of the square is the left half of an upright box of 200 × 100 px', () => {
  const h = unitSquareTo([
    [10, 20],
    [210, 20],
    [210, 120],
    [10, 120],
  ])!;
  expect(patchOf(h, 0, 0.5, 0, 1)).toEqual([
    [10, 20],
    [110, 20],
    [110, 120],
    [10, 120],
  ]);
});
