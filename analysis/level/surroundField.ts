import { median } from 'simple-statistics';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import { type FieldGroup, type FieldSample, fitField, judgeNoise, type SurfaceNoise } from './field.ts';
import { findSurface } from './surface.ts';

/** Turns ln recorded light of three channels into ln scene light. */
export type ToSceneLogs = (recorded: readonly [number, number, number]) => readonly [number, number, number];

/** The part of the surround that the light field is fitted to. */
export interface SurroundSurface {
  readonly cells: readonly SurroundCell[];
  readonly share: number;
}

const FEWEST_CELLS = 20;
const SMALLEST_SHARE = 0.12;
/** Cells taken for the fit: the noise between neighbours hangs together, so more would cost and not tell more. */
const MOST_CELLS = 120;
/** Tukey's biweight cuts off at this many standard deviations. */
const TUKEY_REACH = 4.685;

/** Distance from a place to the nearest mark, in half diagonals, turned into a weight of 1 near to 0.1 far. */
const nearness = (tiled: Tiled): number[] => {
  const half = Math.hypot(tiled.widthPx, tiled.heightPx) / 2;
  const places = [...tiled.card, ...tiled.steps].flatMap((p) => p.quad);
  return tiled.surround.map((cell) => {
    const d = Math.min(...places.map(([x, y]) => Math.hypot(cell.x - x, cell.y - y))) / half;
    return Math.max(0.1, Math.exp(-((d / 0.45) ** 2)));
  });
};

/**
 * Finds the surface that card and strip lie on. A reason instead, where there is none to speak of.
 *
 * @param seed of the search's random triples.
 */
export const surroundSurface = (
  tiled: Tiled,
  seed: number,
): SurroundSurface | { readonly reason: string } => {
  const half = Math.hypot(tiled.widthPx, tiled.heightPx) / 2;
  if (tiled.surround.length < FEWEST_CELLS)
    return { reason: 'hardly any table is in the photo around card and strip' };
  const surface = findSurface(tiled.surround, nearness(tiled), half, seed);
  if (surface.cells.length < FEWEST_CELLS || surface.share < SMALLEST_SHARE)
    return { reason: 'what lies around card and strip is not one plain surface' };
  return { cells: surface.cells.map((i) => tiled.surround[i]), share: surface.share };
};

const logRgb = (cell: SurroundCell): [number, number, number] => [
  Math.log(Math.max(cell.rgb[0], 1e-5)),
  Math.log(Math.max(cell.rgb[1], 1e-5)),
  Math.log(Math.max(cell.rgb[2], 1e-5)),
];

const sampleOf = (cell: SurroundCell, toScene: ToSceneLogs): FieldSample => ({
  x: cell.x,
  y: cell.y,
  logs: toScene(logRgb(cell)),
});

/** Every k-th cell, so that at most `MOST_CELLS` remain, spread over all of them. */
const thinned = <T>(all: readonly T[]): T[] => {
  const k = all.length / Math.min(all.length, MOST_CELLS);
  return Array.from({ length: Math.min(all.length, MOST_CELLS) }, (_, i) => all[Math.floor(i * k)]);
};

/**
 * The surface's cells that a smooth field describes, and how the surface varies about it: iteratively reweighted
 * with Tukey's biweight, then the noise judged by its likelihood.
 */
export const settleSurface = (
  tiled: Tiled,
  surface: SurroundSurface,
  toScene: ToSceneLogs,
): { readonly cells: readonly SurroundCell[]; readonly noise: SurfaceNoise } => {
  const { widthPx, heightPx } = tiled;
  const anchor = [widthPx / 2, heightPx / 2] as const;
  let kept = surface.cells;
  let sd = 0.03;
  for (let round = 0; round < 3; round++) {
    const samples = kept.map((c) => sampleOf(c, toScene));
    const field = fitField(
      widthPx,
      heightPx,
      [{ samples, noise: { sd, length: 0, ownShare: 1, grain: null } }],
      anchor,
    );
    const all = surface.cells.map((c) => {
      const s = sampleOf(c, toScene);
      return s.logs[1] - field.logLight(s.x, s.y)[1];
    });
    const centre = median(all);
    sd = Math.max(0.002, 1.4826 * median(all.map((r) => Math.abs(r - centre))));
    const within = surface.cells.filter((_, i) => Math.abs(all[i] - centre) < 0.75 * TUKEY_REACH * sd);
    if (within.length >= FEWEST_CELLS) kept = within;
  }
  const cells = thinned(kept);
  return {
    cells,
    noise: judgeNoise(
      widthPx,
      heightPx,
      cells.map((c) => sampleOf(c, toScene)),
      sd,
    ),
  };
};

/** The surround as a group of field samples. */
export const surroundGroup = (
  cells: readonly SurroundCell[],
  noise: SurfaceNoise,
  toScene: ToSceneLogs,
): FieldGroup => ({ samples: cells.map((c) => sampleOf(c, toScene)), noise });
