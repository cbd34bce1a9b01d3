import { describe, expect, it } from 'vitest';
import { flatQuads } from '../../../analysis/locate/flatQuads.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { overlapShare } from '../../../analysis/locate/quadGeometry.ts';
import { fitScraps } from '../../../analysis/locate/scraps.ts';
import { fieldOf, grey, painted, rowOfBoxes } from './paintedField.ts';
import { blue, stripOf } from './paintedStrip.ts';

const neutral = { redGreen: 0, blueGreen: 0 };
const fitsOf = (places: readonly Quad[], depths: readonly number[], count: number) => {
  const patches = places.map((quad, i) => ({ quad, colour: blue(depths[i]) }));
  const field = fieldOf(painted(640, 480, grey(0.3), patches));
  return fitScraps(field, flatQuads(field), count, neutral);
};
const inPlace = (found: readonly Quad[], truth: readonly Quad[]) => {
  expect(found.length).toBe(truth.length);
  found.forEach((quad, i) => {
    expect(overlapShare(quad, truth[i])).toBeGreaterThan(0.85);
  });
};

describe('scraps of 60 × 70 px with 20 px of table between them', () => {
  const row = rowOfBoxes([320, 240], 5, 80, 60, 70, 12);
  const rising = [0.05, 0.2, 0.4, 0.6, 0.8];

  it('in a row are found from light to dark', () => {
    const [best] = fitsOf(row, rising, 5);
    inPlace(best.steps, row);
    expect(best.seen).toBe(5);
    expect(best.leftOver).toBe(0);
    expect(best.misfit).toBeLessThan(0.1);
    expect(best.directionGap).toBeGreaterThan(10);
  });

  it('that lie the longest exposure first come back in rising exposure', () => {
    inPlace(fitsOf(row, [...rising].reverse(), 5)[0].steps, [...row].reverse());
  });

  it('in two rows are read like a page', () => {
    const places = [...rowOfBoxes([320, 170], 3, 80, 60, 70, 0), ...rowOfBoxes([320, 270], 3, 80, 60, 70, 0)];
    inPlace(fitsOf(places, [0.05, 0.15, 0.3, 0.45, 0.6, 0.8], 6)[0].steps, places);
  });

  it('one more than there are steps leaves one over', () => {
    expect(fitsOf(row, rising, 4)[0].leftOver).toBe(1);
  });

  it('out of order misfit by more than 5', () => {
    expect(fitsOf(row, [0.05, 0.6, 0.2, 0.8, 0.4], 5)[0].misfit).toBeGreaterThan(5);
  });
});

it('steps of one cloth, which touch, are no scraps', () => {
  const { patches } = stripOf([0, 0.2, 0.4, 0.6, 0.8], [320, 240], 0, 0);
  const field = fieldOf(painted(640, 480, grey(0.05), patches));
  expect(fitScraps(field, flatQuads(field), 5, neutral)).toEqual([]);
});
