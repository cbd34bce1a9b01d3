import type { Curve } from './curve.ts';
import { shapeExposure, shapeLightness } from './shape.ts';

/** How deep is this dye after so many seconds? L*; `seconds` 0 or more. */
export function lightnessAt(curve: Curve, seconds: number): number {
  return shapeLightness(curve.shape, seconds);
}

/**
 * How long until this L* is reached? Seconds by the fitted curve, wherever that is, also far off the strip:
 * `advise` is what guards it. Null where the curve never gets there or L* is above the base.
 */
export function exposureFor(curve: Curve, L: number): number | null {
  return shapeExposure(curve.shape, L);
}

/** How far from the base to the deepest is this L*, in percent of the L* distance, kept within 0..100? */
export function depthPercent(curve: Curve, L: number): number {
  const share = (curve.baseL - L) / (curve.baseL - curve.deepestL);
  return Number.isFinite(share) ? 100 * Math.min(1, Math.max(0, share)) : 0;
}

/** L* of a depth in percent. */
export function lightnessOfDepth(curve: Curve, percent: number): number {
  return curve.baseL - (percent / 100) * (curve.baseL - curve.deepestL);
}

/** What colour does this dye have after so many seconds? CIELAB; a*, b* follow the depth as the points do. */
export function colourAt(curve: Curve, seconds: number): { L: number; a: number; b: number } {
  const L = lightnessAt(curve, seconds);
  const { a, b, depthFrom, depthTo } = curve.colour;
  const depth = Math.min(depthTo, Math.max(depthFrom, depthPercent(curve, L) / 100));
  return { L, a: polynomial(a, depth), b: polynomial(b, depth) };
}

function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) sum = sum * x + coefficients[i];
  return sum;
}
