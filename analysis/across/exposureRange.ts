import { densityFromY, yFromDensity } from '../colour/density.ts';
import { lightnessFromY, yFromLightness } from '../colour/lightness.ts';
import type { Curve } from '../curve/curve.ts';
import { exposureFor } from '../curve/evaluate.ts';

export interface ExposureRange {
  readonly fromSeconds: number;
  readonly toSeconds: number;
  /** log10 of their ratio. */
  readonly logRange: number;
  readonly stops: number;
}

const ABOVE_BASE = 0.04;
const OF_DEEPEST = 0.9;

/**
 * Over which range of exposures does this dye answer, measured the way photographic papers are? From the exposure for
 * a visual reflectance density of 0.04 above the base to the one for 90 % of the deepest density. The method alone is
 * borrowed from ISO 6846, which is for silver papers: this is no ISO rating, and no speed follows from it.
 *
 * @returns null where the two points fall together or the curve doesn't reach them.
 * @see [ISO6846-method]; density of the deepest counted from perfect white, as the page seen has it.
 * @example exposureRange(curve).logRange // 1.55
 */
export function exposureRange(curve: Curve): ExposureRange | null {
  const baseDensity = densityFromY(yFromLightness(curve.baseL));
  const deepestDensity = densityFromY(yFromLightness(curve.deepestL));
  const at = (densityLog10: number) => exposureFor(curve, lightnessFromY(yFromDensity(densityLog10)));
  const fromSeconds = at(baseDensity + ABOVE_BASE);
  const toSeconds = at(OF_DEEPEST * deepestDensity);
  if (fromSeconds === null || toSeconds === null || !(fromSeconds > 0) || !(toSeconds > fromSeconds))
    return null;
  return {
    fromSeconds,
    toSeconds,
    logRange: Math.log10(toSeconds / fromSeconds),
    stops: Math.log2(toSeconds / fromSeconds),
  };
}
