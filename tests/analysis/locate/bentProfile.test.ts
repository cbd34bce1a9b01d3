import { expect, test } from 'vitest';
import { bentAlong, bentPlace } from '../../../analysis/locate/bentProfile.ts';
import type { Along } from '../../../analysis/locate/stripProfile.ts';

test('a bend of 0.1 leaves both ends in place and makes the last tenth 1.2 times as long as the first', () => {
  expect(bentPlace(0, 0.1)).toBe(0);
  expect(bentPlace(1, 0.1)).toBe(1);
  const first = bentPlace(0.1, 0.1) - bentPlace(0, 0.1);
  const last = bentPlace(1, 0.1) - bentPlace(0.9, 0.1);
  expect(last / first).toBeCloseTo(1.09 / 0.91, 9);
});

test('a band whose steps grow from 16 to 24 samples reads as steps of 20 once it is bent by 0.2', () => {
  // Border k of six steps, 120 samples in all: where evenly spaced places go.
  const borders = [0, 1, 2, 3, 4, 5, 6].map((k) => 120 * bentPlace(k / 6, 0.2));
  const level = Float64Array.from(
    { length: 120 },
    (_, i) => -borders.findLastIndex((border) => border <= i + 0.5),
  );
  const ones = new Float64Array(120).fill(1);
  const grid: Along = {
    start: 0,
    flank: ones,
    uneven: ones,
    profile: {
      planes: [level],
      paleness: level,
      weights: ones,
      strange: ones,
      cloth: ones,
      noise: [0.01],
      correlated: 4,
      maxSlope: 0,
    },
  };
  const bent = bentAlong(grid, 120, 0.2).profile.planes[0];
  const changes = [...bent.keys()].filter((i) => i > 0 && bent[i] !== bent[i - 1]);
  expect(changes.length).toBe(5);
  changes.forEach((at, k) => {
    expect(Math.abs(at - 20 * (k + 1))).toBeLessThanOrEqual(1);
  });
});
