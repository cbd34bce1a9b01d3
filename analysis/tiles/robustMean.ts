import { median, medianAbsoluteDeviation } from 'simple-statistics';
import type { Rgb } from '../photo/photo.ts';
import type { Tile, TiledPatch } from './tile.ts';

/** The mean light of one marked area, foreign tiles left out. */
export interface PatchMean {
  /** Centre of the area, pixels. */
  readonly x: number;
  readonly y: number;
  /** Mean linear device light. */
  readonly rgb: Rgb;
  /** Relative standard error of each channel's mean, texture's correlation and rounding to whole codes included. */
  readonly relativeSe: Rgb;
  /** Relative standard deviation of the tiles' green light: unevenness. */
  readonly unevenness: number;
  /** Share of pixels at either end of the file's range, over all tiles. */
  readonly clippedShare: number;
  readonly tilesUsed: number;
  readonly tilesDropped: number;
}

/** Robust z beyond which a tile is foreign: a crease, a stain, a thread, glare. */
const FOREIGN_Z = 3.5;
/** Relative difference below which no tile is called foreign. */
const FOREIGN_FLOOR = 0.02;
const FLOOR_LIGHT = 1e-5;

const logOf = (value: number): number => Math.log(Math.max(value, FLOOR_LIGHT));

/** True for tiles near the median in lightness and in colour. */
const ownTiles = (rgbs: readonly Rgb[]): boolean[] => {
  const features = [
    rgbs.map(([, g]) => logOf(g)),
    rgbs.map(([r, g]) => Math.log((r + 0.02) / (g + 0.02))),
    rgbs.map(([, g, b]) => Math.log((b + 0.02) / (g + 0.02))),
  ];
  const near = features.map((values) => {
    const centre = median(values);
    const reach = Math.max(FOREIGN_Z * 1.4826 * medianAbsoluteDeviation(values), FOREIGN_FLOOR);
    return values.map((v) => Math.abs(v - centre) <= reach);
  });
  const own = rgbs.map((_, i) => near.every((flags) => flags[i]));
  return own.filter(Boolean).length * 2 >= rgbs.length ? own : rgbs.map(() => true);
};

/** Correlation between neighbouring tiles, 0..0.8; cloth texture and dye unevenness do not average out as noise does. */
const neighbourCorrelation = (tiles: readonly Tile[], values: readonly number[], columns: number): number => {
  const mean = values.reduce((s, v) => s + v, 0) / values.length;
  const at = new Map(tiles.map((t, i) => [t.row * columns + t.column, values[i] - mean]));
  let variance = 0;
  for (const v of at.values()) variance += v * v;
  variance /= at.size;
  let products = 0;
  let pairs = 0;
  for (const t of tiles) {
    const here = at.get(t.row * columns + t.column)!;
    const right = t.column + 1 < columns ? at.get(t.row * columns + t.column + 1) : undefined;
    const below = at.get((t.row + 1) * columns + t.column);
    for (const next of [right, below])
      if (next !== undefined) {
        products += here * next;
        pairs++;
      }
  }
  if (pairs === 0 || variance === 0) return 0;
  // 1/n corrects the bias of a correlation taken about the sample's own mean.
  return Math.min(0.8, Math.max(0, products / pairs / variance + 1 / at.size));
};

/**
 * How bright is this marked area, and how well is that known from its own spread?
 *
 * @param patch tiles of the area. @param evenness light at a place relative to the area's centre, per channel;
 *   tiles are divided by it before they are compared or averaged.
 */
export const robustMean = (patch: TiledPatch, evenness: (x: number, y: number) => Rgb): PatchMean => {
  const { tiles, columns } = patch;
  const flat = tiles.map((t): Rgb => {
    const [r, g, b] = evenness(t.x, t.y);
    return [t.rgb[0] / r, t.rgb[1] / g, t.rgb[2] / b];
  });
  const own = ownTiles(flat);
  const kept = tiles.filter((_, i) => own[i]);
  const values = flat.filter((_, i) => own[i]);
  const n = values.length;
  const mean = ([0, 1, 2] as const).map((c) => values.reduce((s, v) => s + v[c], 0) / n);
  const deviation = ([0, 1, 2] as const).map((c) =>
    n > 1 ? Math.sqrt(values.reduce((s, v) => s + (v[c] - mean[c]) ** 2, 0) / (n - 1)) : 0.05 * mean[c],
  );
  const rho = neighbourCorrelation(
    kept,
    values.map((v) => v[1]),
    columns,
  );
  const effective = Math.max(Math.min(n, 2), n * ((1 - rho) / (1 + rho)) ** 2);
  const relative = (c: 0 | 1 | 2) => deviation[c] / Math.max(mean[c], FLOOR_LIGHT);
  const se = (c: 0 | 1 | 2) =>
    Math.hypot(
      relative(c) / Math.sqrt(effective),
      (patch.roundingU?.[c] ?? 0) / Math.max(mean[c], FLOOR_LIGHT),
    );
  const pixels = tiles.reduce((s, t) => s + t.pixels, 0);
  return {
    x: tiles.reduce((s, t) => s + t.x, 0) / tiles.length,
    y: tiles.reduce((s, t) => s + t.y, 0) / tiles.length,
    rgb: [mean[0], mean[1], mean[2]],
    relativeSe: [se(0), se(1), se(2)],
    unevenness: relative(1),
    clippedShare: tiles.reduce((s, t) => s + t.clippedShare * t.pixels, 0) / pixels,
    tilesUsed: n,
    tilesDropped: tiles.length - n,
  };
};
