import { flatRegions } from './flatRegions.ts';
import { unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { fitQuad } from './quadFit.ts';
import { overlapShare, quadCentre, scaleQuad, sideLengths } from './quadGeometry.ts';
import { sampleTone, type Tone } from './sampleTone.ts';
import { halved, type ToneField } from './toneField.ts';

/** A flat, four-sided area of the small photo. */
export interface FlatQuad {
  readonly quad: Quad;
  readonly centre: Point;
  /** Mean lengths of sides 0–1 / 3–2 and of sides 1–2 / 0–3, px. */
  readonly sides: readonly [number, number];
  readonly areaPx: number;
  readonly tone: Tone;
  /** Size of the pixels that it was found by, in pixels of the field. */
  readonly pixelPx: number;
  /** Levels over which the area stayed itself; larger is clearer. */
  readonly persistence: number;
}

const mostQuads = 260;

/** Every flat four-sided area, found at full, half and quarter size, clearest first. Coordinates of the full field. */
export function flatQuads(field: ToneField): FlatQuad[] {
  const half = halved(field);
  // A busy pattern makes thousands of small areas; cards and cloth are among the larger and clearer ones.
  const weight = (q: FlatQuad) => q.persistence * q.areaPx ** 0.8;
  const clearest = [
    ...quadsAt(field, field, 1),
    ...quadsAt(half, field, 2),
    ...quadsAt(halved(half), field, 4),
  ]
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, mostQuads);
  const kept: FlatQuad[] = [];
  // Of twins the one from the larger picture has the sharper corners.
  for (const candidate of clearest.sort((a, b) => a.pixelPx - b.pixelPx || b.persistence - a.persistence)) {
    const twin = kept.some((other) => {
      const ratio = candidate.areaPx / other.areaPx;
      if (ratio < 0.8 || ratio > 1.25) return false;
      const reach = 0.3 * Math.min(other.sides[0], other.sides[1]);
      if (Math.abs(candidate.centre[0] - other.centre[0]) > reach) return false;
      if (Math.abs(candidate.centre[1] - other.centre[1]) > reach) return false;
      return overlapShare(candidate.quad, other.quad) > 0.8;
    });
    if (!twin) kept.push(candidate);
  }
  return kept.sort((a, b) => b.persistence - a.persistence);
}

function quadsAt(field: ToneField, full: ToneField, factor: number): FlatQuad[] {
  const { widthPx, heightPx } = field;
  const regions = flatRegions(field.steepness, widthPx, heightPx, {
    minAreaPx: 60,
    maxAreaPx: 0.5 * widthPx * heightPx,
    minPersistence: 3,
  });
  const stamp = new Int32Array(widthPx * heightPx).fill(-1);
  const quads: FlatQuad[] = [];
  regions.forEach((region, index) => {
    const fit = fitQuad(region.pixels, widthPx, stamp, index);
    if (!fit || fit.filled < 0.82 || fit.filled > 1.12) return;
    const areaPx = region.pixels.length;
    const sides = sideLengths(fit.quad);
    const shorter = Math.min(sides[0], sides[1]);
    if (shorter < 5 || fit.outlinePx > 0.7 + 0.04 * shorter) return;
    const quad = scaleQuad(fit.quad, factor);
    const square = unitSquareTo(quad);
    if (!square) return;
    const tone = sampleTone(full, square, 0.2, 0.8, 0.2, 0.8);
    if (!tone) return;
    quads.push({
      quad,
      centre: quadCentre(quad),
      sides: [sides[0] * factor, sides[1] * factor],
      areaPx: areaPx * factor * factor,
      tone,
      pixelPx: factor,
      persistence: region.death - region.birth,
    });
  });
  return quads;
}
