import type { ChannelNoise } from './channels.ts';
import { type Factor, factorise, solveBy } from './cholesky.ts';

/** How a surface varies about smooth light. */
export interface SurfaceNoise {
  /** Standard deviation in ln light. */
  readonly sd: number;
  /** Length over which it hangs together, half diagonals of the photo; 0 for independent samples. */
  readonly length: number;
  /** Share of the variance that does not hang together, 0..1. */
  readonly ownShare: number;
  /** Direction of a grain along which it hangs together `GRAIN_RATIO` times as far, radians; null without grain. */
  readonly grain: number | null;
  /** How it divides among the channels; mostly light and shade where missing. */
  readonly channels?: ChannelNoise;
}

type Spot = { readonly x: number; readonly y: number };

/** How much further wood or weave hangs together along its grain than across it. */
const GRAIN_RATIO = 6;

/** The factor of the noise's covariance between places. */
export const noiseFactor = (places: readonly Spot[], noise: SurfaceNoise, half: number): Factor => {
  const n = places.length;
  const variance = noise.sd ** 2;
  const shared = variance * (1 - noise.ownShare);
  const v = new Float64Array(n * n);
  // Places as the surface's grain sees them; without grain as they are.
  const [cos, sin] = noise.grain === null ? [1, 0] : [Math.cos(noise.grain), Math.sin(noise.grain)];
  const alongUnit = noise.grain === null ? 1 : GRAIN_RATIO;
  const along = Float64Array.from(places, ({ x, y }) => (x * cos + y * sin) / alongUnit);
  const across = Float64Array.from(places, ({ x, y }) => y * cos - x * sin);
  const perLength = -1 / (half * noise.length);
  for (let i = 0; i < n; i++) {
    v[i * n + i] = variance;
    for (let j = 0; j < i; j++) {
      const dx = along[i] - along[j];
      const dy = across[i] - across[j];
      v[i * n + j] = shared * Math.exp(perLength * Math.sqrt(dx * dx + dy * dy));
    }
  }
  return factorise(v, n);
};

/** Columns weighted by the inverse of the noise's covariance. */
export const weightedBy = (
  places: readonly Spot[],
  noise: SurfaceNoise,
  half: number,
  columns: readonly Float64Array[],
): Float64Array[] => {
  if (noise.length === 0) {
    const weight = 1 / noise.sd ** 2;
    return columns.map((column) => {
      const weighted = new Float64Array(column.length);
      for (let i = 0; i < weighted.length; i++) weighted[i] = column[i] * weight;
      return weighted;
    });
  }
  const factor = noiseFactor(places, noise, half);
  return columns.map((c) => solveBy(factor, c));
};
