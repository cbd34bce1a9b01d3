import { describe, expect, it } from 'vitest';
import { applyMatrix3, inverseMatrix3 } from '../../../analysis/colour/matrix3.ts';
import { CHART_24_COLOURS } from '../../../analysis/level/chart24Colours.ts';
import { fitColourMatrix } from '../../../analysis/level/colourMatrix.ts';
import type { RgbProfile } from '../../../analysis/photo/photo.ts';
import { assumedSrgb } from '../../../analysis/photo/srgb.ts';
import { random } from '../../../fixtures/random.ts';

const PROFILE: RgbProfile = assumedSrgb(255, 255);
const TRUE = [...CHART_24_COLOURS].map(([name, xyz]) => ({
  name,
  xyz,
  rgb: applyMatrix3(inverseMatrix3(PROFILE.toXyz65), xyz),
}));
/** A camera whose channels overlap otherwise than the file's primaries; rows add up to 1, so greys stay grey. */
const CAMERA = [0.9, 0.08, 0.02, 0.05, 0.88, 0.07, -0.03, 0.12, 0.91];

const seenBy = (camera: readonly number[]) =>
  TRUE.map(({ name, xyz, rgb }) => ({ name, xyz, reflectance: applyMatrix3(camera, rgb) }));

describe('the colour matrix', () => {
  it('undoes a known 3×3 to 1e-9, and predicts colours left out to 0.001 ΔE00', () => {
    const fitted = fitColourMatrix(seenBy(CAMERA), PROFILE)!;
    const undone = inverseMatrix3(CAMERA);
    expect(fitted.applied).toBe(true);
    fitted.matrix.forEach((value, i) => {
      expect(value).toBeCloseTo(undone[i], 9);
    });
    expect(fitted.withDeltaE).toBeLessThan(0.001);
    expect(fitted.withoutDeltaE).toBeGreaterThan(2);
  });

  it('is the identity to 1e-9 where the camera sees right, with 0 ΔE00 before and after', () => {
    const fitted = fitColourMatrix(seenBy([1, 0, 0, 0, 1, 0, 0, 0, 1]), PROFILE)!;
    fitted.matrix.forEach((value, i) => {
      expect(value).toBeCloseTo(i % 4 === 0 ? 1 : 0, 9);
    });
    expect(fitted.withoutDeltaE).toBeLessThan(1e-6);
  });

  it('is left aside where colours are off at random by 8 %, so that left-out ones are not predicted better', () => {
    const rng = random(2, 1);
    const spoilt = seenBy([1, 0, 0, 0, 1, 0, 0, 0, 1]).map((c) => ({
      ...c,
      reflectance: c.reflectance.map((v) => v * (1 + 0.08 * rng.normal())) as unknown as readonly [
        number,
        number,
        number,
      ],
    }));
    const fitted = fitColourMatrix(spoilt, PROFILE)!;
    expect(fitted.withDeltaE).toBeGreaterThanOrEqual(fitted.withoutDeltaE);
    expect(fitted.applied).toBe(false);
    expect(fitted.matrix).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
  });

  it.each([0.9, 0.18, 0.035])('leaves a neutral of Y %d neutral to 1e-12', (Y) => {
    const { matrix } = fitColourMatrix(seenBy(CAMERA), PROFILE)!;
    for (const value of applyMatrix3(matrix, [Y, Y, Y])) expect(value).toBeCloseTo(Y, 12);
  });

  it('asks for twelve colours', () => {
    expect(fitColourMatrix(seenBy(CAMERA).slice(0, 11), PROFILE)).toBeNull();
    expect(fitColourMatrix(seenBy(CAMERA).slice(0, 12), PROFILE)).not.toBeNull();
  });
});
