/** A 3×3 matrix, row by row. */
export type Matrix3 = readonly [number, number, number, number, number, number, number, number, number];

/** A column of three numbers. */
export type Vector3 = readonly [number, number, number];

/** Matrix times column. */
export function applyMatrix3(m: readonly number[], v: Vector3): Vector3 {
  return [
    m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
    m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
    m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
  ];
}

/** Matrix product: `first` is applied to a column before `then`. */
export function chainMatrix3(then: readonly number[], first: readonly number[]): Matrix3 {
  const column = (j: 0 | 1 | 2) => applyMatrix3(then, [first[j], first[j + 3], first[j + 6]]);
  const [a, b, c] = [column(0), column(1), column(2)];
  return [a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]];
}

/** Inverse by cofactors; entries are not finite where the matrix has none. */
export function inverseMatrix3(m: readonly number[]): Matrix3 {
  const [a, b, c, d, e, f, g, h, i] = m;
  const A = e * i - f * h;
  const B = f * g - d * i;
  const C = d * h - e * g;
  const q = 1 / (a * A + b * B + c * C);
  return [
    A * q,
    (c * h - b * i) * q,
    (b * f - c * e) * q,
    B * q,
    (a * i - c * g) * q,
    (c * d - a * f) * q,
    C * q,
    (b * g - a * h) * q,
    (a * e - b * d) * q,
  ];
}
