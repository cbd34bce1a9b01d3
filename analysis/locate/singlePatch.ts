import type { FlatQuad } from './flatQuads.ts';

/** One grey patch as it may lie in the photo. */
export interface SinglePatchFit {
  readonly patch: FlatQuad;
  /** Misfit in units of what a good photo shows; about 1 for a good fit. */
  readonly misfit: number;
}

export interface StripLook {
  /** Light of the strip's lightest step, ln. */
  readonly lightest: number;
  /** Area of one step, px. */
  readonly stepAreaPx: number;
}

/**
 * Which flat area is the one grey patch of this reflectance? It is neutral, even as paper is, four-sided, no speck,
 * and as much darker than bare cloth as its reflectance says. `strip` may be unknown.
 */
export function fitSinglePatch(quads: readonly FlatQuad[], Y: number, strip?: StripLook): SinglePatchFit[] {
  const fits = quads.map((patch) => {
    const { light, redGreen, blueGreen, spread } = patch.tone;
    const tint = (redGreen ** 2 + blueGreen ** 2) / 0.2 ** 2;
    const rough = (spread / 0.02) ** 2;
    const [a, b] = patch.sides;
    const slim = Math.max(0, Math.abs(Math.log(a / b)) - 0.5) / 0.2;
    let misfit = tint + Math.min(9, rough) / 2 + slim ** 2 + 4 / Math.max(1, patch.persistence / 4);
    if (strip) {
      // Bare cloth reflects about 0.7; the camera's curve stretches or squeezes the distance.
      const expected = Math.log((Y + 0.02) / 0.7);
      const off = light - strip.lightest - expected;
      misfit += (off / (0.25 + 0.3 * Math.abs(expected))) ** 2;
      const size = Math.log(patch.areaPx / strip.stepAreaPx);
      misfit += Math.max(0, -size - 0.5) ** 2 * 4;
    }
    return { patch, misfit };
  });
  return fits.sort((a, b) => a.misfit - b.misfit);
}
