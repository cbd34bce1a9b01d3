import { describe, expect, test } from 'vitest';
import { exposureRange } from '../../../analysis/across/exposureRange.ts';
import { INDIGO, type Known, knownCurve, knownL } from './knownCurve.ts';

/** CIE lightness to density, written out: for L* above 8, Y = ((L* + 16) / 116)³. */
const density = (L: number) => -3 * Math.log10((L + 16) / 116);

/** First exposure at which the formula's density passes a value, by halving. */
function secondsAtDensity(known: Known, wanted: number): number {
  let [low, high] = [1e-3, 1e6];
  for (let i = 0; i < 200; i++) {
    const middle = Math.sqrt(low * high);
    if (density(knownL(known, middle)) < wanted) low = middle;
    else high = middle;
  }
  return low;
}

// Method after ISO 6846 as quoted in the Focal Encyclopedia of Photography, p. 679: from 0.04 above base to 90 % of the
// deepest density. No ISO rating is claimed for cloth.
describe('exposure range by 0.04 above base and 90 % of the deepest density', () => {
  test.each([
    ['indigo', INDIGO],
    ['a steep dye', { ...INDIGO, n: 3 }],
    ['a pale dye', { ...INDIGO, deepestL: 60 }],
  ])('of %s is what halving on the formula finds', (_, known) => {
    const range = exposureRange(knownCurve(known));
    const from = secondsAtDensity(known, density(88) + 0.04);
    const to = secondsAtDensity(known, 0.9 * density(known.deepestL));
    expect(range?.fromSeconds).toBeCloseTo(from, 6);
    expect(range?.toSeconds).toBeCloseTo(to, 6);
    expect(range?.logRange).toBeCloseTo(Math.log10(to / from), 9);
    expect(range?.stops).toBeCloseTo((range?.logRange ?? 0) / Math.log10(2), 9);
  });

  test('grows as one over the steepness: log range of n = 1.5 is twice that of n = 3', () => {
    const range = (n: number) => exposureRange(knownCurve({ ...INDIGO, n }))?.logRange ?? 0;
    expect(range(1.5) / range(3)).toBeCloseTo(2, 9);
  });

  test('is none for a dye that hardly colours: base L* 88, deepest L* 86', () => {
    expect(exposureRange(knownCurve({ ...INDIGO, deepestL: 86 }))).toBeNull();
  });
});
