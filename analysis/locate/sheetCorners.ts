import type { Photo } from '../photo/photo.ts';
import type { Point, Quad } from './marks.ts';
import { fitLine } from './quadFit.ts';
import { crossing } from './quadGeometry.ts';
import { greenAt } from './sheetGrey.ts';
import type { SeenMarker } from './sheetMarkers.ts';

const PLACES = 24;

/**
 * The same marker with its corners where the full-size photo has them: along each side of the black square the
 * steepest rise of light is looked for at many places, a line laid through them, and lines crossed.
 *
 * @param slackPx how far the corners may be off, pixels of the photo.
 */
export const sharpMarker = (photo: Photo, { corner, quad }: SeenMarker, slackPx: number): SeenMarker => {
  const lines = [0, 1, 2, 3].map((side) => edgeLine(photo, quad[side], quad[(side + 1) % 4], slackPx));
  const sharp = [0, 1, 2, 3].map((k) => {
    const [before, after] = [lines[(k + 3) % 4], lines[k]];
    const at = before && after ? crossing(before[0], before[1], after[0], after[1]) : undefined;
    const far = at ? Math.hypot(at[0] - quad[k][0], at[1] - quad[k][1]) : 0;
    return at && far <= 2 * slackPx ? at : quad[k];
  }) as unknown as Quad;
  return { corner, quad: sharp };
};

const edgeLine = (photo: Photo, a: Point, b: Point, slackPx: number): readonly [Point, Point] | undefined => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 4) return undefined;
  // Corners run clockwise, so outside lies to the left of the way along.
  const out: Point = [(b[1] - a[1]) / length, -(b[0] - a[0]) / length];
  const reach = Math.min(slackPx + 1.5, 0.1 * length + 1.5);
  const steps = Math.ceil(2 * reach);
  const points: Point[] = [];
  for (let i = 0; i < PLACES; i++) {
    const t = 0.1 + (0.8 * (i + 0.5)) / PLACES;
    const x = a[0] + t * (b[0] - a[0]);
    const y = a[1] + t * (b[1] - a[1]);
    const rise = (k: number): number => {
      const far = -reach + k;
      return (
        greenAt(photo, x + (far + 0.5) * out[0], y + (far + 0.5) * out[1]) -
        greenAt(photo, x + (far - 0.5) * out[0], y + (far - 0.5) * out[1])
      );
    };
    const rises = Array.from({ length: steps + 1 }, (_, k) => rise(k));
    const top = rises.indexOf(Math.max(...rises));
    if (rises[top] < 0.02 * photo.maxCode) continue;
    const [p, q, r] = [rises[top - 1] ?? 0, rises[top], rises[top + 1] ?? 0];
    const bend = p - 2 * q + r;
    const between = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (p - r)) / bend)) : 0;
    const far = -reach + top + between;
    points.push([x + far * out[0], y + far * out[1]]);
  }
  if (points.length < PLACES / 3) return undefined;
  return fitLine(points);
};
