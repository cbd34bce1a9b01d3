import { median } from 'simple-statistics';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import { type FieldSample } from './field.ts';
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
 * Finds the surface that card and strip lie on. Null, with the reason, where there is none to speak of.
 *
 * @param seed of the search's random triples.
 */
export const surroundSurface = (tiled: Tiled, seed: number): SurroundSurface | { readonly reason: string } => {
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

/** Field samples of the surface, all with the same spread. */
export const surroundSamples = (surface: SurroundSurface, toScene: ToSceneLogs, sd: number): FieldSample[] =>
  surface.cells.map((cell) => ({ x: cell.x, y: cell.y, logs: toScene(logRgb(cell)), group: 0, sd }));

/** How well a smooth field describes the surface. */
export interface FieldResidual {
  /** Robust standard deviation of ln light about the field, one cell. */
  readonly sd: number;
  /** The part of it that neighbouring cells share, i.e. that does not average out. */
  readonly sharedSd: number;
  /** Tukey biweight of each sample, 0..1. */
  readonly weights: readonly number[];
}

/**
 * How far are the samples from the field, and do neighbours err together?
 *
 * @param logLight the field. @param cellPx distance between neighbouring cells.
 */
export const fieldResidual = (
  samples: readonly FieldSample[],
  logLight: (x: number, y: number) => readonly [number, number, number],
  cellPx: number,
): FieldResidual => {
  const raw = samples.map((s) => s.logs[1] - logLight(s.x, s.y)[1]);
  const centre = median(raw);
  const residuals = raw.map((r) => r - centre);
  const sd = Math.max(0.002, 1.4826 * median(residuals.map(Math.abs)));
  const reach = 4.685 * sd;
  const weights = residuals.map((r) => (Math.abs(r) < reach ? (1 - (r / reach) ** 2) ** 2 : 0));
  const at = new Map(samples.map((s, i) => [`${Math.round(s.x / cellPx)},${Math.round(s.y / cellPx)}`, i]));
  let products = 0;
  let pairs = 0;
  samples.forEach((s, i) => {
    if (weights[i] === 0) return;
    const [column, row] = [Math.round(s.x / cellPx), Math.round(s.y / cellPx)];
    for (const [dc, dr] of [
      [3, 0],
      [0, 3],
      [2, 2],
      [2, -2],
    ]) {
      const j = at.get(`${column + dc},${row + dr}`);
      if (j === undefined || weights[j] === 0) continue;
      products += residuals[i] * residuals[j];
      pairs++;
    }
  });
  return { sd, sharedSd: pairs > 8 ? Math.sqrt(Math.max(0, products / pairs)) : sd, weights };
};
