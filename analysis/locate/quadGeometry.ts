import type { Point, Quad } from './marks.ts';

/** Signed area by the shoelace formula, px²; positive where the corners run clockwise on screen (y down). */
export function signedArea(polygon: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [ax, ay] = polygon[i];
    const [bx, by] = polygon[(i + 1) % polygon.length];
    twice += ax * by - bx * ay;
  }
  return twice / 2;
}

/** Mean of the four corners, px. */
export function quadCentre(quad: Quad): Point {
  return [
    (quad[0][0] + quad[1][0] + quad[2][0] + quad[3][0]) / 4,
    (quad[0][1] + quad[1][1] + quad[2][1] + quad[3][1]) / 4,
  ];
}

/** The same four corners running clockwise on screen, the first one kept. */
export function clockwise(quad: Quad): Quad {
  return signedArea(quad) >= 0 ? quad : [quad[0], quad[3], quad[2], quad[1]];
}

/** True where the corners turn the same way all round, so the quad is convex and not crossed. */
export function isConvex(quad: Quad): boolean {
  let sign = 0;
  for (let i = 0; i < 4; i++) {
    const a = quad[i];
    const b = quad[(i + 1) % 4];
    const c = quad[(i + 2) % 4];
    const cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    if (Math.abs(cross) < 1e-9) return false;
    if (sign === 0) sign = Math.sign(cross);
    else if (Math.sign(cross) !== sign) return false;
  }
  return true;
}

/** True where the point lies inside a convex polygon of either turning direction. */
export function containsPoint(polygon: readonly Point[], point: Point): boolean {
  let positive = false;
  let negative = false;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i];
    const b = polygon[(i + 1) % polygon.length];
    const cross = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]);
    if (cross > 0) positive = true;
    if (cross < 0) negative = true;
  }
  return !(positive && negative);
}

/** Area shared by two convex quads, px² (Sutherland–Hodgman clipping). */
export function sharedArea(first: Quad, second: Quad): number {
  let polygon: Point[] = [...clockwise(first)];
  const clip = clockwise(second);
  for (let i = 0; i < 4 && polygon.length > 0; i++) {
    const a = clip[i];
    const b = clip[(i + 1) % 4];
    const side = (p: Point) => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
    const kept: Point[] = [];
    for (let j = 0; j < polygon.length; j++) {
      const p = polygon[j];
      const q = polygon[(j + 1) % polygon.length];
      const sp = side(p);
      const sq = side(q);
      if (sp >= 0) kept.push(p);
      if (sp >= 0 !== sq >= 0) {
        const t = sp / (sp - sq);
        kept.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      }
    }
    polygon = kept;
  }
  return polygon.length < 3 ? 0 : Math.abs(signedArea(polygon));
}

/** Shared area over the area of both together, 0..1. */
export function overlapShare(first: Quad, second: Quad): number {
  const shared = sharedArea(first, second);
  return shared / (Math.abs(signedArea(first)) + Math.abs(signedArea(second)) - shared);
}

/** Share of the first quad that the second covers, 0..1. */
export function coveredShare(first: Quad, second: Quad): number {
  return sharedArea(first, second) / Math.abs(signedArea(first));
}

/** Where two lines cross, each given by two points; undefined where they are parallel. */
export function crossing(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const rx = b[0] - a[0];
  const ry = b[1] - a[1];
  const sx = d[0] - c[0];
  const sy = d[1] - c[1];
  const det = rx * sy - ry * sx;
  if (Math.abs(det) < 1e-9 * (Math.hypot(rx, ry) * Math.hypot(sx, sy) + 1e-12)) return undefined;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / det;
  return [a[0] + t * rx, a[1] + t * ry];
}

/** The quad in other pixels: every coordinate multiplied by the factor. */
export function scaleQuad(quad: Quad, factor: number): Quad {
  return quad.map(([x, y]) => [x * factor, y * factor] as const) as unknown as Quad;
}

/** Half the sum of opposite sides: [first and third side, second and fourth side], px. */
export function sideLengths(quad: Quad): readonly [number, number] {
  const d = (a: Point, b: Point) => Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(d(quad[0], quad[1]) + d(quad[3], quad[2])) / 2, (d(quad[1], quad[2]) + d(quad[0], quad[3])) / 2];
}
