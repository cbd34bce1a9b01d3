import { expect, test } from 'vitest';
import { flatQuads } from '../../../analysis/locate/flatQuads.ts';
import { quadCentre, sideLengths } from '../../../analysis/locate/quadGeometry.ts';
import { stripFrames } from '../../../analysis/locate/stripFrames.ts';
import { cornersApart, fieldOf, grey, painted, rowOfBoxes, turnedBox } from './paintedField.ts';
import { stripOf } from './paintedStrip.ts';

const framesOf = (photo: ReturnType<typeof painted>) => {
  const field = fieldOf(photo);
  return stripFrames(field, flatQuads(field));
};

test.each([0, 25, 90, 160])('six steps turned by %i° make one band of six pieces of 40 px', (degrees) => {
  const { patches } = stripOf([0, 0.15, 0.3, 0.45, 0.6, 0.8], [320, 240], degrees, 0);
  const [band] = framesOf(painted(640, 480, grey(0.3), patches));
  expect(band.pieces).toHaveLength(6);
  for (const piece of band.pieces) expect(Math.abs(piece - 40)).toBeLessThan(4);
  expect(band.changes).toBe(6);
  expect(cornersApart(band.quad, turnedBox([320, 240], 240, 80, degrees))).toBeLessThan(4);
});

test('side 0–1 of a band runs along it', () => {
  const { patches } = stripOf([0, 0.3, 0.6], [320, 240], 70, 0);
  const [along, across] = sideLengths(framesOf(painted(640, 480, grey(0.3), patches))[0].quad);
  expect(along).toBeGreaterThan(115);
  expect(across).toBeLessThan(85);
});

test('two strips end to end, both darkening to the right, are not joined over the table between them', () => {
  const left = stripOf([0, 0.3, 0.6], [170, 240], 0, 0);
  const right = stripOf([0.1, 0.4, 0.7], [470, 240], 0, 0);
  const frames = framesOf(painted(640, 480, grey(0.05), [...left.patches, ...right.patches]));
  const longest = Math.max(...frames.map((f) => sideLengths(f.quad)[0]));
  expect(longest).toBeLessThan(150);
  expect(frames.some((f) => f.pieces.length === 3)).toBe(true);
});

test('boxes of other widths beside a strip are left out of its band', () => {
  const { patches } = stripOf([0, 0.3, 0.6, 0.9], [320, 240], 0, 0);
  const odd = rowOfBoxes([440, 240], 1, 40, 60, 30, 0).map((quad) => ({ quad, colour: grey(0.5) }));
  const frames = framesOf(painted(640, 480, grey(0.2), [...patches, ...odd]));
  const band = frames.find((f) => f.pieces.length === 4)!;
  expect(Math.abs(quadCentre(band.quad)[0] - 320)).toBeLessThan(4);
});

test('an empty table has no band', () => {
  expect(framesOf(painted(640, 480, grey(0.3), []))).toEqual([]);
});
