import { median } from 'simple-statistics';
import type { Rgb } from '../photo/photo.ts';
import type { SurroundCell, Tile, Tiled, TiledPatch } from '../tiles/tile.ts';

/** A place with what was measured there. `u`, `v`: from the photo's middle to the right and down, half diagonals. */
export interface LightSample {
  readonly u: number;
  readonly v: number;
  readonly value: number;
}

/** Samples of one surface, whose own level is not known: only differences between them tell of the light. */
export interface LightGroup {
  readonly of: 'card' | 'step' | 'surround';
  /** Place in `tiled.card` or `tiled.steps`; 0 for the surround. */
  readonly index: number;
  readonly samples: readonly LightSample[];
  /** Standard deviation of a sample under even light. */
  readonly sd: number;
}

/** What a surface varies by itself, standard deviation. */
export interface OwnVariation {
  readonly card: number;
  readonly step: number;
  readonly surround: number;
  /** Share of a surface's own ln red against blue that varies within it: strong colours are recorded unevenly. */
  readonly perTint: number;
}

/** Tiles along a side above which neighbours are taken together, two by two. */
const COARSE_FROM = 5;
const MOST_CELLS = 200;
const FEWEST_CELLS = 100;
/** Neighbouring cells of a plain surface differ by less than this in ln light; wood, check and stripes by more. */
const PLAIN_NEIGHBOURS = 0.025;
/** Neighbouring cells of one surface differ by less than this in ln red against blue. */
const SAME_COLOUR = 0.06;
/** Share of the surround that a surface must take up to stand for it. */
const SURFACE_SHARE = 0.4;
/** More than any row of joined tiles, and of surround cells, is long. */
const STRIDE = 64;
const ROW = 1024;
/** Light that the lens strays, and lint on cloth: its standard deviation, share of full light. It matters on the dark. */
const STRAY = { card: 0.0005, step: 0.003 };
/** Median absolute deviation to standard deviation, normal law. */
const MAD_TO_SD = 1.4826;

/** ln light, all channels together as the eye weighs them, roughly. */
export const lnLight = ([r, g, b]: Rgb): number => Math.log(Math.max(0.25 * r + 0.65 * g + 0.1 * b, 1e-5));

/** ln red against blue. */
export const lnRedToBlue = ([r, , b]: Rgb): number =>
  Math.log((Math.max(r, 0) + 1e-4) / (Math.max(b, 0) + 1e-4));

const places = ({
  widthPx,
  heightPx,
}: Tiled): ((x: number, y: number) => readonly [u: number, v: number]) => {
  const half = Math.hypot(widthPx, heightPx) / 2;
  return (x, y) => [(x - widthPx / 2) / half, (y - heightPx / 2) / half];
};

/** Scatter from sample to sample, by mixed differences over two by two: slopes and round bends of the light cancel. */
const scatterOf = (at: ReadonlyMap<number, LightSample>): number => {
  const differences: number[] = [];
  for (const [key, { value }] of at) {
    const [right, below, across] = [at.get(key + 1), at.get(key + STRIDE), at.get(key + STRIDE + 1)];
    if (right && below && across)
      differences.push(Math.abs(value - right.value - below.value + across.value));
  }
  return differences.length === 0 ? 0 : (MAD_TO_SD * median(differences)) / 2;
};

const NEIGHBOURS = 9;
const near = new Float64Array(NEIGHBOURS);

/** The middle one of the first `count` numbers in `near`, or the mean of the middle two; sorts them in place. */
const middleOfNear = (count: number): number => {
  for (let i = 1; i < count; i++) {
    const value = near[i];
    let j = i;
    for (; j > 0 && near[j - 1] > value; j--) near[j] = near[j - 1];
    near[j] = value;
  }
  const half = count >> 1;
  return count % 2 === 1 ? near[half] : (near[half - 1] + near[half]) / 2;
};

/** Light and colour are judged on the same tiles. */
const cleaned = new WeakMap<TiledPatch, readonly Tile[]>();

/** Every tile as the median of its neighbourhood of three by three: threads go, edges and spots of light stay. */
const withoutThreads = (patch: TiledPatch): readonly Tile[] => {
  const known = cleaned.get(patch);
  if (known) return known;
  const { tiles } = patch;
  const at: (Tile | undefined)[] = [];
  for (const tile of tiles) at[STRIDE * (tile.row + 1) + tile.column + 1] = tile;
  const around: Tile[] = [];
  const channel = (c: 0 | 1 | 2): number => {
    for (let i = 0; i < around.length; i++) near[i] = around[i].rgb[c];
    return middleOfNear(around.length);
  };
  const clean = tiles.map((tile): Tile => {
    around.length = 0;
    for (let row = tile.row; row <= tile.row + 2; row++)
      for (let column = tile.column; column <= tile.column + 2; column++) {
        const other = at[STRIDE * row + column];
        if (other) around.push(other);
      }
    return { ...tile, rgb: [channel(0), channel(1), channel(2)] };
  });
  cleaned.set(patch, clean);
  return clean;
};

const patchGroup = (
  tiled: Tiled,
  patch: TiledPatch,
  of: 'card' | 'step',
  index: number,
  value: (rgb: Rgb) => number,
  own: OwnVariation,
): LightGroup => {
  const place = places(tiled);
  const clean = withoutThreads(patch);
  const [across, down] = [patch.columns, patch.rows].map((n) => (n >= COARSE_FROM ? 2 : 1));
  const joined = new Map<number, { x: number; y: number; rgb: [number, number, number]; n: number }>();
  for (const tile of clean) {
    const key = STRIDE * Math.floor(tile.row / down) + Math.floor(tile.column / across);
    const sum = joined.get(key) ?? { x: 0, y: 0, rgb: [0, 0, 0], n: 0 };
    sum.x += tile.x;
    sum.y += tile.y;
    for (let c = 0; c < 3; c++) sum.rgb[c] += tile.rgb[c];
    sum.n++;
    joined.set(key, sum);
  }
  const at = new Map<number, LightSample>();
  for (const [key, { x, y, rgb, n }] of joined) {
    const [u, v] = place(x / n, y / n);
    at.set(key, { u, v, value: value([rgb[0] / n, rgb[1] / n, rgb[2] / n]) });
  }
  const level = median(clean.map((t) => Math.exp(lnLight(t.rgb))));
  const stray = STRAY[of] / Math.max(level, STRAY[of]);
  const coloured = own.perTint * Math.abs(median(clean.map((t) => lnRedToBlue(t.rgb))));
  return { of, index, samples: [...at.values()], sd: Math.hypot(own[of], stray, coloured, scatterOf(at)) };
};

/** The card's patches and the steps as groups of samples. */
export const markGroups = (tiled: Tiled, value: (rgb: Rgb) => number, own: OwnVariation): LightGroup[] => [
  ...tiled.card.map((patch, i) => patchGroup(tiled, patch, 'card', i, value, own)),
  ...tiled.steps.map((patch, i) => patchGroup(tiled, patch, 'step', i, value, own)),
];

/** Cells by row and column of the grid they were cut on, counted over those that are there. */
const byGrid = ({ surround }: Tiled): Map<number, SurroundCell> => {
  const placeOf = (values: readonly number[]): Map<number, number> =>
    new Map([...new Set(values)].sort((a, b) => a - b).map((value, i) => [value, i + 1] as const));
  const columns = placeOf(surround.map((c) => c.x));
  const rows = placeOf(surround.map((c) => c.y));
  return new Map(surround.map((c) => [ROW * rows.get(c.y)! + columns.get(c.x)!, c] as const));
};

/** The largest set of cells that hang together without a jump in colour: shadows darken, they hardly tint. */
const oneSurface = (cells: ReadonlyMap<number, SurroundCell>): Map<number, SurroundCell> => {
  const seen = new Set<number>();
  let largest = new Map<number, SurroundCell>();
  for (const start of cells.keys()) {
    if (seen.has(start)) continue;
    const surface = new Map<number, SurroundCell>();
    const open = [start];
    seen.add(start);
    for (let key = open.pop(); key !== undefined; key = open.pop()) {
      const cell = cells.get(key)!;
      surface.set(key, cell);
      for (const next of [key - 1, key + 1, key - ROW, key + ROW]) {
        const other = cells.get(next);
        if (!other || seen.has(next)) continue;
        if (Math.abs(lnRedToBlue(other.rgb) - lnRedToBlue(cell.rgb)) > SAME_COLOUR) continue;
        seen.add(next);
        open.push(next);
      }
    }
    if (surface.size > largest.size) largest = surface;
  }
  return largest;
};

/** The cells of the table that card and strip lie on, where it is mostly one plain surface; null otherwise. */
export const plainTable = (tiled: Tiled): readonly SurroundCell[] | null => {
  if (tiled.surround.length < FEWEST_CELLS) return null;
  const surface = oneSurface(byGrid(tiled));
  if (surface.size < Math.max(FEWEST_CELLS, SURFACE_SHARE * tiled.surround.length)) return null;
  if (neighbourStep(surface) > PLAIN_NEIGHBOURS) return null;
  return thinned([...surface].sort(([a], [b]) => a - b).map(([, cell]) => cell));
};

/** Median step in ln light from a cell to the next. */
const neighbourStep = (surface: ReadonlyMap<number, SurroundCell>): number => {
  const steps: number[] = [];
  for (const [key, cell] of surface)
    for (const next of [surface.get(key + 1), surface.get(key + ROW)])
      if (next) steps.push(Math.abs(lnLight(cell.rgb) - lnLight(next.rgb)));
  return median(steps);
};

const thinned = (cells: readonly SurroundCell[]): SurroundCell[] => {
  const every = Math.ceil(cells.length / MOST_CELLS);
  return cells.filter((_, i) => i % every === 0);
};

/** A plain table as one group. */
export const tableGroup = (
  tiled: Tiled,
  table: readonly SurroundCell[],
  value: (rgb: Rgb) => number,
  own: OwnVariation,
): LightGroup => {
  const place = places(tiled);
  const samples = table.map((c) => {
    const [u, v] = place(c.x, c.y);
    return { u, v, value: value(c.rgb) };
  });
  return { of: 'surround', samples, index: 0, sd: own.surround };
};
