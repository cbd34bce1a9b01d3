import { Matrix, QrDecomposition } from 'ml-matrix';
import type { Point, Quad } from './marks.ts';

/** A plane-to-plane projection, 3×3 row-major, last element 1. */
export type Homography = readonly number[];

/**
 * Which projection takes the unit square to this quad? (0,0), (1,0), (1,1), (0,1) go to corners 0, 1, 2, 3.
 * Closed form of Heckbert 1989, "Fundamentals of texture mapping", §2.2.3. Undefined for a degenerate quad.
 */
export function unitSquareTo(quad: Quad): Homography | undefined {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = quad;
  const dx1 = x1 - x2;
  const dx2 = x3 - x2;
  const dy1 = y1 - y2;
  const dy2 = y3 - y2;
  const sx = x0 - x1 + x2 - x3;
  const sy = y0 - y1 + y2 - y3;
  const det = dx1 * dy2 - dx2 * dy1;
  if (Math.abs(det) < 1e-9) return undefined;
  const g = (sx * dy2 - dx2 * sy) / det;
  const h = (dx1 * sy - sx * dy1) / det;
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
}

/** Where the projection puts (u, v). */
export function project(h: Homography, u: number, v: number): Point {
  const w = h[6] * u + h[7] * v + h[8];
  return [(h[0] * u + h[1] * v + h[2]) / w, (h[3] * u + h[4] * v + h[5]) / w];
}

/** The projection the other way round, scaled to a last element of 1. Undefined where it is singular. */
export function inverse(h: Homography): Homography | undefined {
  const [a, b, c, d, e, f, g, i, j] = h;
  const m = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  if (Math.abs(m[8]) < 1e-15) return undefined;
  return m.map((value) => value / m[8]);
}

/** The part u0..u1 × v0..v1 of the unit square as a quad in the photo. */
export function patchOf(h: Homography, u0: number, u1: number, v0: number, v1: number): Quad {
  return [project(h, u0, v0), project(h, u1, v0), project(h, u1, v1), project(h, u0, v1)];
}

/**
 * Which projection carries the `from` points to the `to` points best? Least squares over four or more pairs
 * (direct linear form with the last element fixed at 1, coordinates centred and scaled first).
 * Undefined where the points do not determine one.
 */
export function fitHomography(from: readonly Point[], to: readonly Point[]): Homography | undefined {
  if (from.length < 4 || from.length !== to.length) return undefined;
  const nf = normalising(from);
  const nt = normalising(to);
  const rows: number[][] = [];
  const values: number[] = [];
  for (let k = 0; k < from.length; k++) {
    const u = (from[k][0] - nf.x) / nf.size;
    const v = (from[k][1] - nf.y) / nf.size;
    const x = (to[k][0] - nt.x) / nt.size;
    const y = (to[k][1] - nt.y) / nt.size;
    rows.push([u, v, 1, 0, 0, 0, -x * u, -x * v], [0, 0, 0, u, v, 1, -y * u, -y * v]);
    values.push(x, y);
  }
  const qr = new QrDecomposition(new Matrix(rows));
  if (!qr.isFullRank()) return undefined;
  const inner = new Matrix(chunk([...qr.solve(Matrix.columnVector(values)).to1DArray(), 1]));
  const back = new Matrix([
    [nt.size, 0, nt.x],
    [0, nt.size, nt.y],
    [0, 0, 1],
  ]);
  const into = new Matrix([
    [1 / nf.size, 0, -nf.x / nf.size],
    [0, 1 / nf.size, -nf.y / nf.size],
    [0, 0, 1],
  ]);
  const h = back.mmul(inner).mmul(into).to1DArray();
  if (Math.abs(h[8]) < 1e-12) return undefined;
  return h.map((value) => value / h[8]);
}

function chunk(nine: readonly number[]): number[][] {
  return [nine.slice(0, 3), nine.slice(3, 6), nine.slice(6, 9)];
}

function normalising(points: readonly Point[]): { x: number; y: number; size: number } {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p[0] / points.length;
    y += p[1] / points.length;
  }
  let size = 0;
  for (const p of points) size += Math.hypot(p[0] - x, p[1] - y) / points.length;
  return { x, y, size: size || 1 };
}
