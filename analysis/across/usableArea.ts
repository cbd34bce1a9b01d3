/** An upright rectangle of cells. */
export interface GridArea {
  /** First row and column, from 0. */
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** Stops between a dose x % over the middle and one x % under it. */
export function toleranceStops(tolerancePercent: number): number {
  const share = tolerancePercent / 100;
  return Math.log2((1 + share) / (1 - share));
}

/**
 * Around which dose do most cells lie within ±x %? A window of fixed width slides over the sorted doses.
 *
 * @param stops doses as log2, at least one.
 * @returns the middle dose, as log2, and how many cells lie in.
 */
export function evenWindow(
  stops: readonly number[],
  tolerancePercent: number,
): { readonly middleStops: number; readonly count: number } {
  const sorted = [...stops].sort((a, b) => a - b);
  const width = toleranceStops(tolerancePercent) + 1e-9;
  let best = { from: 0, count: 0 };
  let to = 0;
  sorted.forEach((start, from) => {
    while (to < sorted.length && sorted[to] - start <= width) to++;
    if (to - from > best.count) best = { from, count: to - from };
  });
  const low = sorted[best.from];
  const high = sorted[best.from + best.count - 1];
  return { middleStops: Math.log2((2 ** low + 2 ** high) / 2), count: best.count };
}

/**
 * Which is the largest upright rectangle of cells whose doses all lie within ±x % of their middle? A cell without a dose
 * cannot be in it. Of rectangles alike in size the most central is taken.
 *
 * @param stops doses as log2, rows of columns.
 */
export function largestEvenArea(
  stops: readonly (readonly (number | null)[])[],
  tolerancePercent: number,
): GridArea | null {
  const width = toleranceStops(tolerancePercent) + 1e-9;
  const [rows, columns] = [stops.length, stops[0].length];
  let best: GridArea | null = null;
  for (let top = 0; top < rows; top++) {
    const low = new Array<number>(columns).fill(Number.POSITIVE_INFINITY);
    const high = new Array<number>(columns).fill(Number.NEGATIVE_INFINITY);
    for (let bottom = top; bottom < rows; bottom++) {
      for (let c = 0; c < columns; c++) {
        const value = stops[bottom][c];
        // A missing cell spoils its column for every rectangle that reaches it.
        low[c] = value === null ? Number.NEGATIVE_INFINITY : Math.min(low[c], value);
        high[c] = value === null ? Number.POSITIVE_INFINITY : Math.max(high[c], value);
      }
      for (const { column, count } of evenRuns(low, high, width)) {
        const area = { row: top, column, rows: bottom - top + 1, columns: count };
        if (best === null || isBetter(area, best, rows, columns)) best = area;
      }
    }
  }
  return best;
}

/** For every first column the longest run of columns whose values keep within the width. */
function evenRuns(
  low: readonly number[],
  high: readonly number[],
  width: number,
): { readonly column: number; readonly count: number }[] {
  const runs: { column: number; count: number }[] = [];
  for (let column = 0; column < low.length; column++) {
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    let count = 0;
    for (let c = column; c < low.length; c++) {
      least = Math.min(least, low[c]);
      most = Math.max(most, high[c]);
      if (!(most - least <= width)) break;
      count++;
    }
    if (count > 0) runs.push({ column, count });
  }
  return runs;
}

function isBetter(area: GridArea, best: GridArea, rows: number, columns: number): boolean {
  const size = area.rows * area.columns - best.rows * best.columns;
  const offCentre = (a: GridArea) =>
    Math.hypot(a.row + a.rows / 2 - rows / 2, a.column + a.columns / 2 - columns / 2);
  return size > 0 || (size === 0 && offCentre(area) < offCentre(best) - 1e-9);
}
