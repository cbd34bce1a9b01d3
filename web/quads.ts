import type { Point, Quad } from '../server/contracts/marks.ts';

/** The middle of four corners. */
export const centreOf = (quad: Quad): Point => [
  quad.reduce((sum, [x]) => sum + x, 0) / 4,
  quad.reduce((sum, [, y]) => sum + y, 0) / 4,
];

/** A point inside a quad: `along` from corner 1 to 2, `across` from corner 1 to 4, each 0..1. */
export const pointWithin = ([p, q, r, s]: Quad, along: number, across: number): Point => {
  const mix = (i: 0 | 1): number =>
    (1 - across) * ((1 - along) * p[i] + along * q[i]) + across * ((1 - along) * s[i] + along * r[i]);
  return [mix(0), mix(1)];
};

/** The part of a quad between two shares of its length. */
const slice = (quad: Quad, from: number, to: number): Quad => [
  pointWithin(quad, from, 0),
  pointWithin(quad, to, 0),
  pointWithin(quad, to, 1),
  pointWithin(quad, from, 1),
];

/** Divides a quad along its length into `count` equal areas, from its first corner's side on. */
export const divide = (quad: Quad, count: number): readonly Quad[] =>
  Array.from({ length: count }, (_, i) => slice(quad, i / count, (i + 1) / count));

/** Do the corners go round clockwise (as seen, y down) without a dent or a crossing? */
export const isProperQuad = (quad: Quad): boolean =>
  quad.every(([ax, ay], i) => {
    const [bx, by] = quad[(i + 1) % 4];
    const [cx, cy] = quad[(i + 2) % 4];
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0;
  });

/** A frame round several quads, its length running from the first quad to the last. */
export const frameAround = (quads: readonly Quad[]): Quad => {
  const [firstX, firstY] = centreOf(quads[0]);
  const [lastX, lastY] = centreOf(quads[quads.length - 1]);
  const length = Math.hypot(lastX - firstX, lastY - firstY);
  const [ux, uy] = length > 1 ? [(lastX - firstX) / length, (lastY - firstY) / length] : [1, 0];
  const corners = quads.flat();
  const along = corners.map(([x, y]) => x * ux + y * uy);
  const across = corners.map(([x, y]) => y * ux - x * uy);
  const at = (a: number, c: number): Point => [a * ux - c * uy, a * uy + c * ux];
  const [near, far] = [Math.min(...along), Math.max(...along)];
  const [left, right] = [Math.min(...across), Math.max(...across)];
  return [at(near, left), at(far, left), at(far, right), at(near, right)];
};

/** Carries a point along when the frame around it (made by `frameAround`, a rectangle) is pulled to a new shape. */
export const carry = ([p, q, , s]: Quad, to: Quad, point: Point): Point => {
  const share = (end: Point): number => {
    const [dx, dy] = [end[0] - p[0], end[1] - p[1]];
    const length2 = dx * dx + dy * dy;
    return length2 > 0 ? ((point[0] - p[0]) * dx + (point[1] - p[1]) * dy) / length2 : 0;
  };
  return pointWithin(to, share(q), share(s));
};

/** The largest upright square about the middle of a quad that stays well inside it: where a crop is taken. */
export const cropBox = (quad: Quad): { readonly x: number; readonly y: number; readonly side: number } => {
  const [cx, cy] = centreOf(quad);
  const reach = quad.map((corner, i) => {
    const [ax, ay] = corner;
    const [bx, by] = quad[(i + 1) % 4];
    const [nx, ny] = [by - ay, ax - bx];
    const gap = Math.abs((cx - ax) * nx + (cy - ay) * ny);
    return gap / (Math.abs(nx) + Math.abs(ny) || 1);
  });
  const half = Math.max(1, 0.86 * Math.min(...reach));
  return { x: cx - half, y: cy - half, side: 2 * half };
};
