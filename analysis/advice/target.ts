import { deltaE00 } from '../colour/difference.ts';
import type { Curve, CurveShape } from '../curve/curve.ts';
import { colourAt, lightnessOfDepth } from '../curve/evaluate.ts';
import { fullWithinL, shapeSecondsToDepth } from '../curve/landmarks.ts';
import { shapeBase, shapeDeepest, shapeExposure } from '../curve/shape.ts';
import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import type { Target } from './advice.ts';

const number = String.raw`([+-]?(?:\d+(?:\.\d*)?|\.\d+))`;
const lightnessText = new RegExp(String.raw`^L\*?\s*=\s*${number}$`, 'i');
const depthText = new RegExp(String.raw`^depth\s*=\s*${number}\s*%?$`, 'i');
const swatchText = new RegExp(String.raw`^swatch\s*=\s*${number}\s*,\s*${number}\s*,\s*${number}$`, 'i');
const remedy = 'Write it as "L=45", "depth=80%", "full" or "swatch=45,-3,-28" (L*, a*, b*).';

/**
 * Which depth does the printer want? Reads "L=45" (L* 0 to 100), "depth=80%" (above 0 to 100), "full" (the shortest
 * exposure within 1 L* of the deepest) and "swatch=L,a,b" (CIELAB of a colour to match). Blanks and case don't matter.
 * Throws `target-invalid`, saying how to write it.
 * @example parseTarget('depth=80%') // { kind: 'depth', percent: 80 }
 */
export function parseTarget(text: string): Target {
  const plain = text.trim();
  if (/^full$/i.test(plain)) return { kind: 'full' };
  const lightness = lightnessText.exec(plain);
  if (lightness) return checkTarget({ kind: 'L', L: Number(lightness[1]) });
  const depth = depthText.exec(plain);
  if (depth) return checkTarget({ kind: 'depth', percent: Number(depth[1]) });
  const swatch = swatchText.exec(plain);
  if (swatch) {
    const [L, a, b] = swatch.slice(1).map(Number);
    return checkTarget({ kind: 'swatch', L, a, b });
  }
  throw new AnalysisError('target-invalid', `The target "${text}" is not understood. ${remedy}`, {
    phrase: phrase('target-unclear', { text }),
  });
}

/** The same target, or `target-invalid` where its numbers are none that a cloth can have. */
export function checkTarget(target: Target): Target {
  const { kind } = target;
  const wrong = (what: string, ...values: number[]) =>
    new AnalysisError('target-invalid', `${what} ${remedy}`, {
      phrase: phrase('target-beyond', {
        kind: values.length === 0 || kind === 'full' ? 'unknown' : kind,
        values,
      }),
    });
  switch (target.kind) {
    case 'L':
      if (!(target.L >= 0 && target.L <= 100))
        throw wrong(`A target of L* ${target.L} is not between 0 and 100.`, target.L);
      break;
    case 'depth':
      if (!(target.percent > 0 && target.percent <= 100))
        throw wrong(`A depth of ${target.percent} % is not above 0 and at most 100 %.`, target.percent);
      break;
    case 'swatch':
      if (!(target.L >= 0 && target.L <= 100 && Math.abs(target.a) <= 150 && Math.abs(target.b) <= 150))
        throw wrong(
          `A swatch of L* ${target.L}, a* ${target.a}, b* ${target.b} is no colour of a cloth.`,
          target.L,
          target.a,
          target.b,
        );
      break;
    case 'full':
      break;
    default:
      throw wrong('The target is of no known kind.');
  }
  return target;
}

/** What a target means on a curve: an L*, and for a swatch how far the nearest colour stays from it. */
export interface TargetOnCurve {
  readonly L: number;
  readonly deltaE: number | null;
}

/** Which L* does a target mean on this curve? For a swatch the nearest colour along it, with the ΔE00 that is left. */
export function targetOnCurve(curve: Curve, target: Target): TargetOnCurve {
  switch (target.kind) {
    case 'L':
      return { L: target.L, deltaE: null };
    case 'depth':
      return { L: lightnessOfDepth(curve, target.percent), deltaE: null };
    case 'full':
      return { L: curve.deepestL + fullWithinL, deltaE: null };
    case 'swatch':
      return nearestToSwatch(curve, target);
  }
}

const swatchPoints = 48;

/** Least ΔE00 along the curve, from the base to one stop beyond the longest step: on a grid in depth, then refined. */
function nearestToSwatch(curve: Curve, swatch: { L: number; a: number; b: number }): TargetOnCurve {
  const latest = 2 * curve.longestSeconds;
  const deepestSeen = colourAt(curve, latest).L;
  const at = (share: number) => {
    const L = curve.baseL + share * (deepestSeen - curve.baseL);
    return { ...colourAt(curve, shapeExposure(curve.shape, L) ?? (share > 0 ? latest : 0)), L };
  };
  const distance = (share: number) => deltaE00(at(share), swatch);
  const shares = Array.from({ length: swatchPoints + 1 }, (_, i) => i / swatchPoints);
  const distances = shares.map(distance);
  const nearest = distances.indexOf(Math.min(...distances));
  let low = Math.max(0, nearest - 1) / swatchPoints;
  let high = Math.min(swatchPoints, nearest + 1) / swatchPoints;
  for (let round = 0; round < 12; round++) {
    const one = low + (high - low) / 3;
    const two = high - (high - low) / 3;
    if (distance(one) <= distance(two)) high = two;
    else low = one;
  }
  const share = (low + high) / 2;
  return { L: at(share).L, deltaE: distance(share) };
}

/**
 * Seconds to the target on one curve out of many: 0 where it asks for no more than the base, Infinity where that curve
 * never gets there. `onCurve` fixes the L* of a swatch.
 */
export function targetSeconds(shape: CurveShape, target: Target, onCurve: TargetOnCurve): number {
  switch (target.kind) {
    case 'depth':
      // An asymptote is never reached; rounding must not make a time of it.
      if (target.percent >= 100 && shape.model !== 'monotone') return Number.POSITIVE_INFINITY;
      return shapeSecondsToDepth(shape, target.percent) ?? Number.POSITIVE_INFINITY;
    case 'full':
      return secondsToLightness(shape, shapeDeepest(shape) + fullWithinL);
    default:
      return secondsToLightness(shape, onCurve.L);
  }
}

function secondsToLightness(shape: CurveShape, L: number): number {
  return shapeExposure(shape, L) ?? (L >= shapeBase(shape) ? 0 : Number.POSITIVE_INFINITY);
}
