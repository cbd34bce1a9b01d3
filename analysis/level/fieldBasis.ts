/** Terms of the illumination field: 1, u, v, u², uv, v², with (u, v) from the photo's centre in half diagonals. */
export const FIELD_TERMS = 6;

/**
 * The terms of a second-order field at a place.
 *
 * @returns a function of pixel place to its six terms.
 */
export const fieldBasis = (widthPx: number, heightPx: number): ((x: number, y: number) => number[]) => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  return (x, y) => {
    const u = (x - widthPx / 2) / half;
    const v = (y - heightPx / 2) / half;
    return [1, u, v, u * u, u * v, v * v];
  };
};

export const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
};
