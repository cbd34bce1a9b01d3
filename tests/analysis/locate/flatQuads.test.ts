import { expect, test } from 'vitest';
import { flatQuads } from '../../../analysis/locate/flatQuads.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { overlapShare } from '../../../analysis/locate/quadGeometry.ts';
import { cornersApart, fieldOf, grey, painted, turnedBox } from './paintedField.ts';

const best = (quads: ReturnType<typeof flatQuads>, truth: Quad) =>
  quads.reduce((a, b) => (overlapShare(a.quad, truth) >= overlapShare(b.quad, truth) ? a : b));

test.each([0, 17, 45, 80])(
  'a grey box of 120 × 70 px turned by %i° is found within 2 px at each corner',
  (degrees) => {
    const truth = turnedBox([200, 150], 120, 70, degrees);
    const quads = flatQuads(fieldOf(painted(400, 300, grey(0.6), [{ quad: truth, colour: grey(0.2) }])));
    expect(cornersApart(best(quads, truth).quad, truth)).toBeLessThan(2);
  },
);

test('a box seen in perspective is found within 2 px at each corner', () => {
  const truth: Quad = [
    [110, 70],
    [300, 95],
    [280, 230],
    [95, 190],
  ];
  const quads = flatQuads(fieldOf(painted(400, 300, grey(0.3), [{ quad: truth, colour: grey(0.7) }])));
  expect(cornersApart(best(quads, truth).quad, truth)).toBeLessThan(2);
});

test('pale cloth at 0.66 on pale paper at 0.60 is found, with light that falls by 30 % across', () => {
  const truth = turnedBox([210, 150], 150, 60, 12);
  const field = fieldOf(
    painted(400, 300, grey(0.6), [{ quad: truth, colour: grey(0.66) }], 0.006, (x) => 1 - (0.3 * x) / 400),
  );
  expect(overlapShare(best(flatQuads(field), truth).quad, truth)).toBeGreaterThan(0.9);
});

test('a red and a green of one lightness are told apart by their colour', () => {
  const left: Quad = [
    [100, 100],
    [200, 100],
    [200, 200],
    [100, 200],
  ];
  const right: Quad = [
    [200, 100],
    [300, 100],
    [300, 200],
    [200, 200],
  ];
  // Both have a luminance of 0.2 (weights of IEC 61966-2-1).
  const field = fieldOf(
    painted(400, 300, grey(0.6), [
      { quad: left, colour: [0.45, 0.13, 0.16] },
      { quad: right, colour: [0.1, 0.235, 0.147] },
    ]),
  );
  const quads = flatQuads(field);
  expect(cornersApart(best(quads, left).quad, left)).toBeLessThan(3);
  expect(cornersApart(best(quads, right).quad, right)).toBeLessThan(3);
});

test('a triangle and an empty table give no area of any size', () => {
  const triangle: Quad = [
    [200, 60],
    [300, 220],
    [299, 221],
    [100, 221],
  ];
  const seen = flatQuads(fieldOf(painted(400, 300, grey(0.6), [{ quad: triangle, colour: grey(0.2) }])));
  expect(seen.filter((q) => overlapShare(q.quad, triangle) > 0.5)).toEqual([]);
  const bare = flatQuads(fieldOf(painted(400, 300, grey(0.6), [])));
  expect(bare.filter((q) => q.areaPx > 3000)).toEqual([]);
});

test('a photo of 3 × 2 px has no areas and does no harm', () => {
  expect(flatQuads(fieldOf(painted(3, 2, grey(0.5), [])))).toEqual([]);
});
