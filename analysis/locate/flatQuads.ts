import { type FlatRegion, flatRegions } from './flatRegions.ts';
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
  const regions = [regionsOf(field, 1), regionsOf(half, 2), regionsOf(halved(half), 4)]
    .flat()
    .sort((a, b) => b.weight - a.weight);
  const clearest: FlatQuad[] = [];
  for (const [mark, region] of regions.entries()) {
    const quad = quadOf(region, mark, field);
    if (quad) clearest.push(quad);
    if (clearest.length === mostQuads) break;
  }
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

interface Candidate {
  readonly region: FlatRegion;
  /** Width of the picture that it was found in, and its pixels' size, in pixels of the full field. */
  readonly widthPx: number;
  readonly factor: number;
  /** One picture's scratch: which region each pixel was last seen in. */
  readonly stamp: Int32Array;
  readonly weight: number;
}

function regionsOf({ steepness, widthPx, heightPx }: ToneField, factor: number): Candidate[] {
  const stamp = new Int32Array(widthPx * heightPx).fill(-1);
  return flatRegions(steepness, widthPx, heightPx, {
    minAreaPx: 60,
    maxAreaPx: 0.5 * widthPx * heightPx,
    minPersistence: 3,
  }).map((region) => ({
    region,
    widthPx,
    factor,
    stamp,
    weight: (region.death - region.birth) * (region.pixels.length * factor * factor) ** 0.8,
  }));
}

function quadOf(
  { region, widthPx, factor, stamp }: Candidate,
  mark: number,
  full: ToneField,
): FlatQuad | undefined {
  const fit = fitQuad(region.pixels, widthPx, stamp, mark);
  if (!fit || fit.filled < 0.82 || fit.filled > 1.12) return undefined;
  const sides = sideLengths(fit.quad);
  const shorter = Math.min(sides[0], sides[1]);
  if (shorter < 5 || fit.outlinePx > 0.7 + 0.04 * shorter) return undefined;
  const quad = scaleQuad(fit.quad, factor);
  const square = unitSquareTo(quad);
  const tone = square && sampleTone(full, square, 0.2, 0.8, 0.2, 0.8);
  if (!tone) return undefined;
  return {
    quad,
    centre: quadCentre(quad),
    sides: [sides[0] * factor, sides[1] * factor],
    areaPx: region.pixels.length * factor * factor,
    tone,
    pixelPx: factor,
    persistence: region.death - region.birth,
  };
}
