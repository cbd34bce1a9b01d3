import type { Quad } from '../../analysis/locate/marks.ts';
import { containsPoint, coveredShare, overlapShare, quadCentre } from '../../analysis/locate/quadGeometry.ts';

const LEAST_SHARE = 0.6;

/** Right, as the benches count it: the middle inside the true area, and at least 60 % of the true area covered. */
export const inPlace = (found: Quad, truth: Quad): boolean =>
  containsPoint(truth, quadCentre(found)) && coveredShare(truth, found) >= LEAST_SHARE;

/** Stricter: both areas the same to 60 % of what they cover together, so that one too large counts as wrong as well. */
export const sameArea = (found: Quad, truth: Quad): boolean =>
  containsPoint(truth, quadCentre(found)) && overlapShare(found, truth) >= LEAST_SHARE;
