import { describe, expect, it } from 'vitest';
import type { Marks, Point, Quad } from '../../server/contracts/marks.ts';
import {
  areProper,
  firstMarks,
  nudged,
  quadOf,
  stepLine,
  withCardTurned,
  withLineMoved,
  withQuad,
  withStepsTurned,
} from '../../web/handMarks.ts';
import { centreOf, cropBox, divide, isProperQuad } from '../../web/quads.ts';

const SECONDS = [0, 60, 120, 240];
const landscape = firstMarks(1000, 600, SECONDS, ['white', 'grey', 'black']);
const SQUARE: Quad = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];

const shiftedBy = (quad: Quad, [dx, dy]: Point): Quad => {
  const [a, b, c, d] = quad.map(([x, y]): Point => [x + dx, y + dy]);
  return [a, b, c, d];
};

describe('firstMarks', () => {
  it('gives every step and patch a proper area inside the photo', () => {
    expect(landscape.steps.map((step) => step.seconds)).toEqual(SECONDS);
    expect(landscape.card.map((patch) => patch.name)).toEqual(['white', 'grey', 'black']);
    expect(areProper(landscape)).toBe(true);
    for (const [x, y] of [...landscape.steps, ...landscape.card].flatMap((mark) => mark.quad)) {
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x).toBeLessThanOrEqual(1000);
      expect(y).toBeGreaterThanOrEqual(0);
      expect(y).toBeLessThanOrEqual(600);
    }
  });

  it('runs along the longer side: left to right, or top to bottom in an upright photo', () => {
    const [first, second] = landscape.steps.map((step) => centreOf(step.quad));
    expect(second[0]).toBeGreaterThan(first[0]);
    const upright = firstMarks(600, 1000, SECONDS, ['grey']);
    const [top, below] = upright.steps.map((step) => centreOf(step.quad));
    expect(below[1]).toBeGreaterThan(top[1]);
    expect(areProper(upright)).toBe(true);
  });
});

describe('withQuad', () => {
  it('carries all steps along when the whole strip is moved by 40 px, 25 px', () => {
    const from = quadOf(landscape, { kind: 'strip' });
    const moved = withQuad(landscape, { kind: 'strip' }, from, shiftedBy(from, [40, 25]));
    moved.steps.forEach((step, i) => {
      step.quad.forEach(([x, y], corner) => {
        expect(x).toBeCloseTo(landscape.steps[i].quad[corner][0] + 40, 6);
        expect(y).toBeCloseTo(landscape.steps[i].quad[corner][1] + 25, 6);
      });
    });
    expect(moved.card).toEqual(landscape.card);
  });

  it('marks what was moved as set by hand with full confidence', () => {
    const found = {
      ...landscape,
      steps: landscape.steps.map((step) => ({ ...step, origin: 'free-form' as const, confidence: 0.4 })),
    };
    const moved = withQuad(found, { kind: 'step', index: 1 }, found.steps[1].quad, SQUARE);
    expect(moved.steps[1]).toMatchObject({ origin: 'hand', confidence: 1, quad: SQUARE });
    expect(moved.steps[0]).toMatchObject({ origin: 'free-form', confidence: 0.4 });
  });

  it('keeps neighbouring steps touching when one end of the strip is pulled wider', () => {
    const from = quadOf(landscape, { kind: 'strip' });
    const to: Quad = [
      from[0],
      [from[1][0] + 30, from[1][1] - 40],
      [from[2][0] + 30, from[2][1] + 40],
      from[3],
    ];
    const { steps } = withQuad(landscape, { kind: 'strip' }, from, to);
    for (let i = 1; i < steps.length; i++) {
      expect(steps[i].quad[0][0]).toBeCloseTo(steps[i - 1].quad[1][0], 6);
      expect(steps[i].quad[0][1]).toBeCloseTo(steps[i - 1].quad[1][1], 6);
    }
  });
});

describe('nudged', () => {
  it('moves one corner and keeps it inside the photo', () => {
    expect(nudged(SQUARE, 1, [-20, 5], 1000, 600)[1]).toEqual([80, 5]);
    expect(nudged(SQUARE, 0, [-50, -50], 1000, 600)[0]).toEqual([0, 0]);
  });

  it('moves a whole area without changing its shape, stopping at the photo’s edge', () => {
    const moved = nudged(SQUARE, null, [2000, 10], 1000, 600);
    expect(moved).toEqual(shiftedBy(SQUARE, [900, 10]));
  });
});

describe('turning', () => {
  it('gives the longest exposure the place of the shortest, and back again', () => {
    const turned = withStepsTurned(landscape);
    expect(turned.steps[0].quad).toEqual(landscape.steps[3].quad);
    expect(turned.steps[0].seconds).toBe(0);
    expect(withStepsTurned(turned).steps.map((s) => s.quad)).toEqual(landscape.steps.map((s) => s.quad));
    expect(withCardTurned(landscape).card[0]).toMatchObject({ name: 'white', quad: landscape.card[2].quad });
  });
});

describe('quads', () => {
  it('calls a crossed quad improper', () => {
    expect(isProperQuad(SQUARE)).toBe(true);
    expect(isProperQuad([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]])).toBe(false);
  });

  it('divides 100 px into four areas of 25 px', () => {
    expect(divide(SQUARE, 4).map((quad) => quad[1][0] - quad[0][0])).toEqual([25, 25, 25, 25]);
  });

  it('crops a square that stays inside a tilted quad', () => {
    const tilted: Quad = [
      [50, 0],
      [100, 50],
      [50, 100],
      [0, 50],
    ];
    const { x, y, side } = cropBox(tilted);
    // Inside the diamond |x − 50| + |y − 50| < 50.
    expect(Math.abs(x - 50) + Math.abs(y - 50)).toBeLessThan(50);
    expect(side).toBeGreaterThan(35);
  });
});

describe('the line between two steps', () => {
  const square = (x: number): Quad => [
    [x, 0],
    [x + 100, 0],
    [x + 100, 60],
    [x, 60],
  ];
  const hand = { origin: 'hand', confidence: 1 } as const;
  const stripOf = (quads: readonly Quad[]): Marks => ({
    card: [],
    steps: quads.map((quad, i) => ({ seconds: 60 * i, quad, ...hand })),
  });
  const strip = stripOf([square(0), square(104), square(208)]);

  it('lies halfway between edges 4 px apart, and runs across the strip', () => {
    const line = stepLine(strip, 0);
    expect(line?.along).toEqual([1, 0]);
    expect(line?.ends.map(([x]) => x)).toEqual([102, 102]);
    expect(line?.ends.map(([, y]) => y).sort((a, b) => a - b)).toEqual([0, 60]);
  });

  it('moved by 10 px makes one step 10 px longer, the next 10 px shorter, and leaves the third', () => {
    const moved = withLineMoved(strip, 0, 10);
    const spans = moved.steps.map(({ quad }) => [
      Math.min(...quad.map(([x]) => x)),
      Math.max(...quad.map(([x]) => x)),
    ]);
    expect(spans).toEqual([
      [0, 110],
      [114, 204],
      [208, 308],
    ]);
  });

  it('does the same where the corners begin elsewhere or the strip runs to the left', () => {
    const [a, b, c, d] = square(104);
    const turned = stripOf([square(208), [c, d, a, b], square(0)]);
    const moved = withLineMoved(turned, 0, 10);
    expect(Math.min(...moved.steps[0].quad.map(([x]) => x))).toBe(198);
    expect(Math.max(...moved.steps[1].quad.map(([x]) => x))).toBe(194);
  });

  it('never eats a step up: moved by 1000 px it stops short of the next middle', () => {
    const moved = withLineMoved(strip, 0, 1000);
    const quad = moved.steps[1].quad;
    expect(isProperQuad(quad)).toBe(true);
    expect(Math.max(...quad.map(([x]) => x)) - Math.min(...quad.map(([x]) => x))).toBeGreaterThan(50);
  });

  it('is none between scraps that lie apart', () => {
    expect(stepLine(stripOf([square(0), square(180)]), 0)).toBeNull();
    expect(stepLine(strip, 2)).toBeNull();
  });
});
