import type { Point, Quad } from './marks.ts';
import { clockwise, containsPoint, crossing, isConvex, signedArea } from './quadGeometry.ts';

export interface QuadFit {
  readonly quad: Quad;
  /** Mean distance of the outline from the quad's sides, px. */
  readonly outlinePx: number;
  /** Area of the region over the area of the quad. */
  readonly filled: number;
}

/** So many points of an outline are enough to lay lines through. */
const mostOutline = 480;

/**
 * Which four straight sides bound this set of pixels? Starts from the smallest rectangle round its convex hull
 * (rotating calipers), then fits a line to the outline along each side, leaving out frayed ends and spurs.
 * Undefined where the outline is not four-sided. Pixel (0, 0) covers 0..1 × 0..1.
 */
export function fitQuad(
  pixels: Int32Array,
  widthPx: number,
  stamp: Int32Array,
  mark: number,
): QuadFit | undefined {
  const outline = outlineOf(pixels, widthPx, stamp, mark);
  const hull = convexHull(outline);
  if (hull.length < 4) return undefined;
  let quad: Quad | undefined = smallestRectangle(hull);
  const stride = Math.ceil(outline.length / mostOutline);
  const some = stride === 1 ? outline : outline.filter((_, i) => i % stride === 0);
  for (let round = 0; round < 2 && quad; round++) quad = refit(quad, some);
  if (!quad || !isConvex(quad) || !rectangular(quad)) return undefined;
  const filled = pixels.length / Math.abs(signedArea(quad));
  let sum = 0;
  for (const p of some) {
    let nearest = Number.POSITIVE_INFINITY;
    for (let s = 0; s < 4; s++) nearest = Math.min(nearest, toSegment2(p, quad[s], quad[(s + 1) % 4]));
    sum += Math.sqrt(nearest);
  }
  return { quad: clockwise(quad), outlinePx: sum / some.length, filled };
}

/** A rectangle seen at up to some 40 degrees: no corner sharper than 55 degrees, opposite sides within 1.7. */
function rectangular(quad: Quad): boolean {
  const side = (i: number) => [quad[(i + 1) % 4][0] - quad[i][0], quad[(i + 1) % 4][1] - quad[i][1]] as const;
  const length = (i: number) => Math.hypot(...side(i));
  for (let i = 0; i < 4; i++) {
    const [a, b] = [side(i), side((i + 1) % 4)];
    const sine = (a[0] * b[1] - a[1] * b[0]) / (length(i) * length((i + 1) % 4));
    if (Math.abs(sine) < 0.82) return false;
  }
  const ratios = [length(0) / length(2), length(1) / length(3)];
  return ratios.every((ratio) => ratio > 0.59 && ratio < 1.7);
}

/** Middles of the pixel sides where the region ends. */
function outlineOf(pixels: Int32Array, widthPx: number, stamp: Int32Array, mark: number): Point[] {
  for (const p of pixels) stamp[p] = mark;
  const outline: Point[] = [];
  for (const p of pixels) {
    const x = p % widthPx;
    const y = (p / widthPx) | 0;
    if (x === 0 || stamp[p - 1] !== mark) outline.push([x, y + 0.5]);
    if (x === widthPx - 1 || stamp[p + 1] !== mark) outline.push([x + 1, y + 0.5]);
    if (y === 0 || stamp[p - widthPx] !== mark) outline.push([x + 0.5, y]);
    if (p + widthPx >= stamp.length || stamp[p + widthPx] !== mark) outline.push([x + 0.5, y + 1]);
  }
  return outline;
}

/** Convex hull by Andrew's monotone chain. */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (from: readonly Point[]) => {
    const chain: Point[] = [];
    for (const p of from) {
      while (chain.length >= 2) {
        const a = chain[chain.length - 2];
        const b = chain[chain.length - 1];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function smallestRectangle(hull: readonly Point[]): Quad {
  let best: Quad | undefined;
  let bestArea = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i];
    const b = hull[(i + 1) % hull.length];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length === 0) continue;
    const ux = (b[0] - a[0]) / length;
    const uy = (b[1] - a[1]) / length;
    let u0 = Number.POSITIVE_INFINITY;
    let u1 = Number.NEGATIVE_INFINITY;
    let v0 = Number.POSITIVE_INFINITY;
    let v1 = Number.NEGATIVE_INFINITY;
    for (const p of hull) {
      const u = p[0] * ux + p[1] * uy;
      const v = -p[0] * uy + p[1] * ux;
      if (u < u0) u0 = u;
      if (u > u1) u1 = u;
      if (v < v0) v0 = v;
      if (v > v1) v1 = v;
    }
    const area = (u1 - u0) * (v1 - v0);
    if (area < bestArea) {
      bestArea = area;
      const at = (u: number, v: number): Point => [u * ux - v * uy, u * uy + v * ux];
      best = [at(u0, v0), at(u1, v0), at(u1, v1), at(u0, v1)];
    }
  }
  return best!;
}

/** One round: every outline point goes to its nearest side, each side becomes the line through its points. */
function refit(quad: Quad, outline: readonly Point[]): Quad | undefined {
  const sides: Point[][] = [[], [], [], []];
  for (const p of outline) {
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let s = 0; s < 4; s++) {
      const d = toSegment2(p, quad[s], quad[(s + 1) % 4]);
      if (d < least) {
        least = d;
        nearest = s;
      }
    }
    sides[nearest].push(p);
  }
  const lines: (readonly [Point, Point])[] = [];
  for (let s = 0; s < 4; s++) {
    const a = quad[s];
    const b = quad[(s + 1) % 4];
    // The ends of a side are where corners are rounded by blur and fray.
    const inner = sides[s].filter((p) => {
      const t =
        ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) /
        ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
      return t > 0.08 && t < 0.92;
    });
    const line = fitLine(thinned(inner.length >= 6 ? inner : sides[s]));
    if (!line) return undefined;
    lines.push(line);
  }
  const corners: Point[] = [];
  for (let s = 0; s < 4; s++) {
    const previous = lines[(s + 3) % 4];
    const corner = crossing(previous[0], previous[1], lines[s][0], lines[s][1]);
    if (!corner) return undefined;
    corners.push(corner);
  }
  return corners as unknown as Quad;
}

/** Every so-manieth point, so that no side has more than a hundred. */
function thinned(points: readonly Point[]): readonly Point[] {
  const stride = Math.ceil(points.length / 100);
  return stride === 1 ? points : points.filter((_, i) => i % stride === 0);
}

/** Line by total least squares, weighted down by Tukey's biweight away from it; as two points. */
export function fitLine(
  points: readonly Point[],
  trust: readonly number[] = points.map(() => 1),
): readonly [Point, Point] | undefined {
  if (points.length < 2) return undefined;
  const weights = Float64Array.from(trust);
  let line: readonly [Point, Point] | undefined;
  for (let round = 0; round < 3; round++) {
    let n = 0;
    let mx = 0;
    let my = 0;
    points.forEach((p, i) => {
      n += weights[i];
      mx += weights[i] * p[0];
      my += weights[i] * p[1];
    });
    if (n < 1e-9) return line;
    mx /= n;
    my /= n;
    let vx = 0;
    let vy = 0;
    let vxy = 0;
    points.forEach((p, i) => {
      vx += weights[i] * (p[0] - mx) ** 2;
      vy += weights[i] * (p[1] - my) ** 2;
      vxy += weights[i] * (p[0] - mx) * (p[1] - my);
    });
    const angle = 0.5 * Math.atan2(2 * vxy, vx - vy);
    const ux = Math.cos(angle);
    const uy = Math.sin(angle);
    line = [
      [mx - ux * 100, my - uy * 100],
      [mx + ux * 100, my + uy * 100],
    ];
    const residuals = Float64Array.from(points, (p) => Math.abs(-(p[0] - mx) * uy + (p[1] - my) * ux));
    const sorted = residuals.slice().sort();
    const width = Math.max(0.5, 1.4826 * sorted[sorted.length >> 1]) * 4.685;
    residuals.forEach((r, i) => {
      weights[i] = r >= width ? 0 : trust[i] * (1 - (r / width) ** 2) ** 2;
    });
  }
  return line;
}

/** Squared distance of a point from a side. */
function toSegment2(p: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return (p[0] - a[0] - t * dx) ** 2 + (p[1] - a[1] - t * dy) ** 2;
}

/** True where every corner of the quad lies inside the photo, give or take `slackPx`. */
export function insidePhoto(quad: Quad, widthPx: number, heightPx: number, slackPx: number): boolean {
  const frame: Quad = [
    [-slackPx, -slackPx],
    [widthPx + slackPx, -slackPx],
    [widthPx + slackPx, heightPx + slackPx],
    [-slackPx, heightPx + slackPx],
  ];
  return quad.every((corner) => containsPoint(frame, corner));
}
