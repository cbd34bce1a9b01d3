import { dotOf } from './cholesky.ts';
import { type FieldBasis, fieldBasis } from './fieldBasis.ts';
import type { Neighbourhood } from './neighbourhood.ts';
import { type SurfaceNoise, weightedBy } from './surfaceNoise.ts';

/** What places and noise alone decide of a fit, so that many fits of the same surface need it once. */
export interface PreparedSurface {
  /** Information on the field's terms, the surface's level eliminated; the lower triangle. */
  readonly information: readonly Float64Array[];
  /** Terms × samples: weights by which ln light enters the right-hand side, the level eliminated. */
  readonly weights: readonly Float64Array[];
}

/** Columns of the terms, one array per term, the level first. */
export const termColumns = (
  places: readonly { readonly x: number; readonly y: number }[],
  basis: FieldBasis,
): Float64Array[] => {
  const rows = places.map((p) => basis.at(p.x, p.y));
  return Array.from(rows[0], (_, k) => {
    const column = new Float64Array(rows.length);
    for (let i = 0; i < rows.length; i++) column[i] = rows[i][k];
    return column;
  });
};

/** How much samples at these places, with this noise, tell of the field's terms. */
export const prepareSurface = (
  widthPx: number,
  heightPx: number,
  places: readonly { readonly x: number; readonly y: number }[],
  noise: SurfaceNoise,
  around: Neighbourhood | null = null,
): PreparedSurface => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  const columns = termColumns(places, fieldBasis(widthPx, heightPx, around));
  const weighted = weightedBy(places, noise, half, columns);
  // Column 0 is the surface's own level: eliminate it.
  const level = dotOf(columns[0], weighted[0]);
  const withLevel = columns.map((c) => dotOf(c, weighted[0]));
  const terms = columns.slice(1);
  return {
    information: terms.map((c, k) => {
      const row = new Float64Array(k + 1);
      for (let l = 0; l <= k; l++)
        row[l] = dotOf(c, weighted[l + 1]) - (withLevel[k + 1] * withLevel[l + 1]) / level;
      return row;
    }),
    weights: terms.map((_, k) => {
      const share = withLevel[k + 1] / level;
      const without = new Float64Array(places.length);
      for (let i = 0; i < without.length; i++) without[i] = weighted[k + 1][i] - share * weighted[0][i];
      return without;
    }),
  };
};
