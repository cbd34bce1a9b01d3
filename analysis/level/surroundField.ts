import { median } from 'simple-statistics';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import {
  type FieldGroup,
  type FieldSample,
  fitField,
  judgeNoise,
  type PreparedSurface,
  prepareSurface,
  type SurfaceNoise,
} from './field.ts';
import { logOfRgb, type ToSceneLogs } from './sceneLogs.ts';
import { findSurface } from './surface.ts';

/** The part of the surround that the light field is fitted to. */
export interface SurroundSurface {
  readonly cells: readonly SurroundCell[];
}

const FEWEST_CELLS = 20;
const SMALLEST_SHARE = 0.12;
/** Cells taken for the fit: the noise between neighbours hangs together, so more would cost and not tell more. */
const MOST_CELLS = 96;
/** Cells among which the surface is looked for, and among which outliers are. */
const MOST_SEARCHED = 500;
const MOST_CANDIDATES = 300;
/** Tukey's biweight cuts off at this many standard deviations. */
const TUKEY_REACH = 4.685;

/** Every k-th of them, so that at most `most` remain, spread over all. */
const thinned = <T>(all: readonly T[], most: number): T[] => {
  const count = Math.min(all.length, most);
  return Array.from({ length: count }, (_, i) => all[Math.floor((i * all.length) / count)]);
};

/** Distance from a place to the nearest mark, in half diagonals, turned into a weight of 1 near to 0.1 far. */
const nearness = (tiled: Tiled, cells: readonly SurroundCell[]): number[] => {
  const half = Math.hypot(tiled.widthPx, tiled.heightPx) / 2;
  const places = [...tiled.card, ...tiled.steps].flatMap((p) => p.quad);
  return cells.map((cell) => {
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
  const cells = thinned(tiled.surround, MOST_SEARCHED);
  const surface = findSurface(cells, nearness(tiled, cells), half, seed);
  if (surface.cells.length < FEWEST_CELLS || surface.share < SMALLEST_SHARE)
    return { reason: 'what lies around card and strip is not one plain surface' };
  return { cells: surface.cells.map((i) => cells[i]) };
};

const sampleOf = (cell: SurroundCell, toScene: ToSceneLogs): FieldSample => ({
  x: cell.x,
  y: cell.y,
  logs: toScene(logOfRgb(cell.rgb)),
});

/** The surface's cells without outliers, how the surface varies, and what that alone decides of a fit. */
export interface SettledSurface {
  readonly cells: readonly SurroundCell[];
  readonly noise: SurfaceNoise;
  readonly prepared: PreparedSurface;
}

/**
 * The surface's cells that a smooth field describes, and how the surface varies about it: iteratively reweighted
 * with Tukey's biweight, then the noise judged by its likelihood.
 *
 * @param judge false for a first look, which takes a usual noise instead.
 */
export const settleSurface = (
  tiled: Tiled,
  surface: SurroundSurface,
  toScene: ToSceneLogs,
  judge: boolean,
): SettledSurface => {
  const { widthPx, heightPx } = tiled;
  const anchor = [widthPx / 2, heightPx / 2] as const;
  const candidates = thinned(surface.cells, MOST_CANDIDATES).map((cell) => ({
    cell,
    sample: sampleOf(cell, toScene),
  }));
  let kept = candidates;
  let sd = 0.03;
  for (let round = 0; round < 3; round++) {
    const group = { samples: kept.map((k) => k.sample), noise: { sd, length: 0, ownShare: 1, grain: null } };
    const field = fitField(widthPx, heightPx, [group], anchor);
    const residuals = candidates.map(({ sample }) => sample.logs[1] - field.logLight(sample.x, sample.y)[1]);
    const centre = median(residuals);
    sd = Math.max(0.002, 1.4826 * median(residuals.map((r) => Math.abs(r - centre))));
    const within = candidates.filter((_, i) => Math.abs(residuals[i] - centre) < 0.75 * TUKEY_REACH * sd);
    if (within.length >= FEWEST_CELLS) kept = within;
  }
  const chosen = thinned(kept, MOST_CELLS);
  const samples = chosen.map((c) => c.sample);
  const noise = judge
    ? judgeNoise(widthPx, heightPx, samples, sd)
    : { sd, length: 0.1, ownShare: 0.5, grain: null };
  return {
    cells: chosen.map((c) => c.cell),
    noise,
    prepared: prepareSurface(widthPx, heightPx, samples, noise),
  };
};

/** The surround as a group of field samples. */
export const surroundGroup = (
  { cells, noise, prepared }: SettledSurface,
  toScene: ToSceneLogs,
): FieldGroup => ({
  samples: cells.map((c) => sampleOf(c, toScene)),
  noise,
  prepared,
});
