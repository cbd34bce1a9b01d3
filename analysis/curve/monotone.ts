import type { MonotoneShape } from './curve.ts';

/**
 * Never-rising values nearest to `values` in weighted squares: pools neighbours that stand the wrong way round.
 * Source: pool adjacent violators [Ayer1955].
 * @example fallingFit([5, 3, 4], [1, 1, 1]) // [5, 3.5, 3.5]
 */
export function fallingFit(values: readonly number[], weights: readonly number[]): number[] {
  const blocks: { sum: number; weight: number; count: number }[] = [];
  values.forEach((value, i) => {
    let block = { sum: value * weights[i], weight: weights[i], count: 1 };
    while (blocks.length > 0) {
      const before = blocks[blocks.length - 1];
      if (before.sum / before.weight > block.sum / block.weight) break;
      blocks.pop();
      block = {
        sum: before.sum + block.sum,
        weight: before.weight + block.weight,
        count: before.count + block.count,
      };
    }
    blocks.push(block);
  });
  return blocks.flatMap(({ sum, weight, count }) => new Array<number>(count).fill(sum / weight));
}

/**
 * Slopes at the knots that keep a cubic Hermite curve from overshooting.
 * Source: [Fritsch-Carlson], with the weighted harmonic mean; ends by the shape-preserving three-point formula.
 */
export function monotoneSlopes(x: readonly number[], y: readonly number[]): number[] {
  const last = x.length - 1;
  const h = x.slice(1).map((value, i) => value - x[i]);
  const rise = h.map((width, i) => (y[i + 1] - y[i]) / width);
  if (last === 1) return [rise[0], rise[0]];
  return x.map((_, i) => {
    if (i === 0) return endSlope(h[0], h[1], rise[0], rise[1]);
    if (i === last) return endSlope(h[last - 1], h[last - 2], rise[last - 1], rise[last - 2]);
    if (rise[i - 1] * rise[i] <= 0) return 0;
    const before = 2 * h[i] + h[i - 1];
    const after = h[i] + 2 * h[i - 1];
    return (before + after) / (before / rise[i - 1] + after / rise[i]);
  });
}

function endSlope(h0: number, h1: number, rise0: number, rise1: number): number {
  const slope = ((2 * h0 + h1) * rise0 - h0 * rise1) / (h0 + h1);
  if (slope * rise0 <= 0) return 0;
  if (rise0 * rise1 <= 0 && Math.abs(slope) > 3 * Math.abs(rise0)) return 3 * rise0;
  return slope;
}

/**
 * A falling curve through the isotonic fit of points in rising exposure, over ln(1 + E/unit) with the shortest
 * exposed step as the unit. Steps of equal time (to a millionth) count as one. Needs two different exposures.
 */
export function monotoneShape(
  seconds: readonly number[],
  L: readonly number[],
  variances: readonly number[],
): MonotoneShape {
  const rounded = seconds.map((time) => Number(time.toPrecision(6)));
  const times = [...new Set(rounded)];
  const weights = times.map((time) =>
    rounded.reduce((sum, s, i) => (s === time ? sum + 1 / variances[i] : sum), 0),
  );
  const means = times.map(
    (time, k) =>
      rounded.reduce((sum, s, i) => (s === time ? sum + L[i] / variances[i] : sum), 0) / weights[k],
  );
  const unitSeconds = times.find((time) => time > 0) ?? 1;
  const x = times.map((time) => Math.log1p(time / unitSeconds));
  const falling = fallingFit(means, weights);
  return { model: 'monotone', unitSeconds, x, L: falling, slopes: monotoneSlopes(x, falling) };
}
