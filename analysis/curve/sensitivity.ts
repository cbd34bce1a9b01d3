import type { CurveShape } from './curve.ts';
import { type Family, familyOf } from './families.ts';

/** A parametric shape seen from its free numbers; null for interpolation, which has none. */
export interface FreeShape {
  readonly family: Family;
  readonly free: readonly number[];
}

/** A shape with its family and free numbers; null for a monotone curve, which has none. */
export function freeShapeOf(shape: CurveShape): FreeShape | null {
  if (shape.model === 'monotone') return null;
  const family = familyOf(shape);
  return { family, free: family.free(shape) };
}

const h = 1e-4;

/** d(ln time)/d(free number) for a time read off the shape; null where it has no finite time nearby. */
export function timeSensitivity(
  { family, free }: FreeShape,
  secondsOn: (shape: CurveShape) => number,
): number[] | null {
  const gradient = free.map((_, j) => {
    const high = secondsOn(family.shape(shifted(free, j, h)));
    const low = secondsOn(family.shape(shifted(free, j, -h)));
    return Math.log(high / low) / (2 * h);
  });
  return gradient.every(Number.isFinite) ? gradient : null;
}

function shifted(free: readonly number[], j: number, by: number): number[] {
  const copy = [...free];
  copy[j] += by;
  return copy;
}
