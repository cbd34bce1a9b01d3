import { median } from 'simple-statistics';
import { type Phrase, phrase } from '../phrases.ts';
import type { SurroundCell, Tiled } from '../tiles/tile.ts';
import { brightnessWeights, type Channels, channelNoise, GREY_NOISE, weighed } from './channels.ts';
import { type FieldSample, fitField, USUAL_STRAYS } from './field.ts';
import { type JudgedNoise, judgeNoise } from './judgeNoise.ts';
import type { Neighbourhood } from './neighbourhood.ts';
import { logOfRgb, type ToSceneLogs } from './sceneLogs.ts';
import { findSurface } from './surface.ts';

/** The part of the surround that the light field is fitted to. */
export interface SurroundSurface {
  readonly cells: readonly SurroundCell[];
}

/** Why there is none. */
export interface LackingSurface {
  readonly reason: string;
  readonly phrase: Phrase;
}

const FEWEST_CELLS = 20;
const SMALLEST_SHARE = 0.12;
/** Cells taken for the fit: the noise between neighbours hangs together, so more would cost and not tell more. */
const MOST_CELLS = 84;
/** Half of the cells are taken from this share of them that lies nearest to the marks, where the light matters. */
const NEAR_SHARE = 0.3;
/** Cells among which the surface is looked for, and among which outliers are. */
const MOST_SEARCHED = 500;
const MOST_CANDIDATES = 220;
/** Tukey's biweight cuts off at this many standard deviations. */
const TUKEY_REACH = 4.685;

/** Every k-th of them, so that at most `most` remain, spread over all. */
const thinned = <T>(all: readonly T[], most: number): T[] => {
  const count = Math.min(all.length, most);
  return Array.from({ length: count }, (_, i) => all[Math.floor((i * all.length) / count)]);
};

/** Distance from a cell to the nearest corner of a mark, in half diagonals. */
const distanceToMarks = (tiled: Tiled): ((cell: SurroundCell) => number) => {
  const half = Math.hypot(tiled.widthPx, tiled.heightPx) / 2;
  const places = [...tiled.card, ...tiled.steps].flatMap((p) => p.quad);
  return ({ x, y }) => {
    let least = Number.POSITIVE_INFINITY;
    for (const [px, py] of places) least = Math.min(least, (x - px) * (x - px) + (y - py) * (y - py));
    return Math.sqrt(least) / half;
  };
};

/** A weight of 1 near to the marks and 0.1 far from them. */
const nearness = (tiled: Tiled, cells: readonly SurroundCell[]): number[] => {
  const distance = distanceToMarks(tiled);
  return cells.map((cell) => Math.max(0.1, Math.exp(-((distance(cell) / 0.45) ** 2))));
};

/** Nearest to the marks first. */
const byNearness = <T extends { readonly cell: SurroundCell }>(tiled: Tiled, all: readonly T[]): T[] => {
  const distance = distanceToMarks(tiled);
  return all
    .map((one) => ({ one, far: distance(one.cell) }))
    .sort((a, b) => a.far - b.far)
    .map(({ one }) => one);
};

/**
 * Finds the surface that card and strip lie on. A reason instead, where there is none to speak of.
 *
 * @param seed of the search's random triples.
 */
export const surroundSurface = (tiled: Tiled, seed: number): SurroundSurface | LackingSurface => {
  const half = Math.hypot(tiled.widthPx, tiled.heightPx) / 2;
  if (tiled.surround.length < FEWEST_CELLS)
    return {
      reason: 'hardly any table is in the photo around card and strip',
      phrase: phrase('hardly-any-table', {}),
    };
  const cells = thinned(tiled.surround, MOST_SEARCHED);
  const surface = findSurface(cells, nearness(tiled, cells), half, seed);
  if (surface.cells.length < FEWEST_CELLS || surface.share < SMALLEST_SHARE)
    return {
      reason: 'what lies around card and strip is not one plain surface',
      phrase: phrase('table-not-plain', {}),
    };
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
  readonly noise: JudgedNoise;
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
  around: Neighbourhood | null,
): SettledSurface => {
  const { widthPx, heightPx } = tiled;
  const anchor = [widthPx / 2, heightPx / 2] as const;
  const candidates = thinned(surface.cells, MOST_CANDIDATES).map((cell) => ({
    cell,
    sample: sampleOf(cell, toScene),
  }));
  let kept = candidates;
  let sd = 0.03;
  let channels = GREY_NOISE;
  for (let round = 0; round < 3; round++) {
    const noise = { sd, length: 0, ownShare: 1, grain: null, channels };
    const field = fitField(
      widthPx,
      heightPx,
      [{ samples: kept.map((k) => k.sample), noise }],
      anchor,
      around,
    );
    const off = candidates.map(({ sample: { x, y, logs } }): Channels => {
      const light = field.logLight(x, y);
      return [logs[0] - light[0], logs[1] - light[1], logs[2] - light[2]];
    });
    const among = new Set(kept);
    channels = channelNoise(off.filter((_, i) => among.has(candidates[i])));
    const weights = brightnessWeights(channels);
    const residuals = off.map((r) => weighed(weights, r));
    const centre = median(residuals);
    sd = Math.max(0.002, 1.4826 * median(residuals.map((r) => Math.abs(r - centre))));
    const within = candidates.filter((_, i) => Math.abs(residuals[i] - centre) < 0.75 * TUKEY_REACH * sd);
    if (within.length >= FEWEST_CELLS) kept = within;
  }
  const near = byNearness(tiled, kept);
  const nearCount = Math.floor(kept.length * NEAR_SHARE);
  const chosen = [
    ...thinned(near.slice(0, nearCount), MOST_CELLS / 2),
    ...thinned(near.slice(nearCount), MOST_CELLS / 2),
  ];
  const samples = chosen.map((c) => c.sample);
  const noise = judge
    ? judgeNoise(widthPx, heightPx, samples, sd, around, channels)
    : { sd, length: 0.1, ownShare: 0.5, grain: null, channels, strays: USUAL_STRAYS };
  return {
    cells: chosen.map((c) => c.cell),
    noise,
  };
};
