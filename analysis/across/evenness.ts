import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { CurveShape } from '../curve/curve.ts';
import { depthPercent } from '../curve/evaluate.ts';
import { shapeSlopePerStop } from '../curve/landmarks.ts';
import { shapeExposure } from '../curve/shape.ts';
import { rootOf, whiten } from '../curve/whiten.ts';
import { AnalysisError, type Warning } from '../errors.ts';
import { type Phrase, phrase } from '../phrases.ts';
import { type BedPattern, type BedRegion, bedPattern, openStops, regionsOf } from './bedPattern.ts';
import { type CellCovariance, type DoseField, fitDoseField, uOfSum } from './doseField.ts';
import { type Figure, figureOf } from './interval.ts';
import type { RecordedCurve } from './recorded.ts';
import { evenWindow, type GridArea, largestEvenArea } from './usableArea.ts';

/** One cell of the sheet as read; null where it can't be read. */
export interface SheetCell {
  readonly L: number;
  /** One standard uncertainty of L* against the other cells: what all cells share does not matter here. */
  readonly uL: number;
}

export interface EvennessOptions {
  /** How far the dose may differ from the middle of its range in the usable area, ± percent; 10 unless said otherwise. */
  readonly tolerancePercent?: number;
  /** How the cells' errors hang together, where they come from one photo; each by itself where left out. */
  readonly errors?: CellErrors;
}

/** Errors of cells read from one photo: its own light looks like an uneven lamp. Cells row by row from the top left. */
export interface CellErrors {
  /** n×n covariance of L*, cells that can't be read included. */
  readonly covarianceL: readonly (readonly number[])[];
  /** The part of each cell's variance that is its own: cloth and noise. */
  readonly ownVarianceL: readonly number[];
  readonly seed?: number;
}

export type Evenness =
  | {
      readonly kind: 'not-readable';
      readonly tooPale: number;
      readonly tooDeep: number;
      readonly missing: number;
      /** What to do instead. */
      readonly sentence: string;
      readonly phrase?: Phrase;
    }
  /** Read from a photo whose own light is not known: what the lamp did to the sheet can't be told from it. */
  | { readonly kind: 'light-unknown'; readonly sentence: string; readonly phrase?: Phrase }
  | {
      readonly kind: 'map';
      /** Dose of each cell over the dose that the usable area is centred on; null where it can't be read. */
      readonly relativeDose: readonly (readonly (number | null)[])[];
      /** Relative standard uncertainty of each, from its reading. */
      readonly relativeU: readonly (readonly (number | null)[])[];
      /** `smooth`: by a smooth field that fits within the reading's error. `cells`: by the single cells. */
      readonly basis: 'smooth' | 'cells';
      readonly tolerancePercent: number;
      /** Share of the readable cells within the tolerance, 0 to 1, with a 90 % interval from the curve. */
      readonly usableShare: Figure;
      /** Largest upright rectangle of cells within the tolerance; null where not even one is. */
      readonly usableArea: GridArea | null;
      /** Largest dose over smallest, with a 90 % interval from the curve. */
      readonly doseRatio: Figure;
      /** Nine regions, top left to bottom right as on the sheet, against the middle. */
      readonly regions: readonly BedRegion[];
      readonly pattern: BedPattern;
      /**
       * What the photo's own light leaves open with 90 %, from one edge to the one opposite, in percent of the dose: a
       * tilt of the lamp smaller than that can't be seen. Null where the cells' errors are independent.
       */
      readonly openPercent: { readonly across: number; readonly down: number } | null;
      readonly warnings: readonly Warning[];
      readonly sentence: string;
      readonly phrase?: Phrase;
    };

const LEAST_PER_SIDE = 3;
const MOST_PER_SIDE = 60;
/** Depths between which a cell's lightness tells its dose. Common practice, no source. */
const PALEST_PERCENT = 8;
const DEEPEST_PERCENT = 92;
const MOST_OFF_SHARE = 0.25;
/** Drawn curves that the intervals rest on. */
const MOST_SHAPES = 100;

/**
 * How even is my light over the bed? A whole coated sheet is exposed at one time to mid depth, washed, photographed and
 * read in cells; each cell's L* goes back through the dye's curve to its dose. Says which edge or corner is low, which
 * part can be used within ±x %, and what to change. Coating and cloth show as well: turn a second sheet end for end, and
 * what stays with the bed is the light.
 *
 * @param cells rows from the top, columns from the left, 3×3 to 60×60, all rows alike.
 * @param recorded the curve of this dye on this cloth; only its form matters, not the light it was made with.
 * @returns `not-readable` where more than a quarter of the cells lie outside 8 to 92 % depth or are missing.
 * @throws AnalysisError `comparison-invalid` for another shape of grid or numbers out of range.
 * @see method.md §9, [domain-4.8], [domain-4.9], [domain-4.11]
 * @example readEvenness(Array(3).fill(Array(3).fill({ L: 59, uL: 0.5 })), { curve, set }).usableShare.value // 1
 */
export function readEvenness(
  cells: readonly (readonly (SheetCell | null)[])[],
  recorded: RecordedCurve,
  options: EvennessOptions = {},
): Evenness {
  const tolerancePercent = options.tolerancePercent ?? 10;
  check(cells, tolerancePercent);
  const { curve, set } = recorded;
  const depths = cells.map((row) => row.map((cell) => (cell === null ? null : depthPercent(curve, cell.L))));
  const flat = depths.flat();
  const beyond = beyondStrip(cells, recorded);
  const tooPale = flat.filter((depth) => depth !== null && depth < PALEST_PERCENT).length;
  const isTooDeep = (depth: number, row: number, column: number) =>
    depth > DEEPEST_PERCENT || beyond[row][column] === 'far';
  const tooDeep = depths
    .flatMap((line, r) => line.map((depth, c) => depth !== null && isTooDeep(depth, r, c)))
    .filter(Boolean).length;
  const missing = flat.filter((depth) => depth === null).length;
  if (tooPale + tooDeep + missing > MOST_OFF_SHARE * flat.length) {
    return {
      kind: 'not-readable',
      tooPale,
      tooDeep,
      missing,
      ...exposeAgain(flat.length, tooPale, tooDeep, missing),
    };
  }
  const readable = cells.map((row, r) =>
    row.map((cell, c) => {
      const depth = depths[r][c];
      return cell !== null && depth !== null && depth >= PALEST_PERCENT && !isTooDeep(depth, r, c)
        ? cell
        : null;
    }),
  );
  const { errors } = options;
  const field = fieldOf(readable, curve.shape, tolerancePercent, errors);
  const redraw = errors ? redrawnBy(readable, errors) : () => readable;
  const draws = set.shapes
    .slice(0, MOST_SHAPES)
    .map((shape) => fieldOf(redraw(), shape, tolerancePercent, errors));
  const regions = regionsOf(field.dose);
  const pattern = bedPattern(field.dose, tolerancePercent);
  const usableArea = largestEvenArea(field.stops, tolerancePercent);
  const usableShare = figureOf(
    field.usableShare,
    draws.map((draw) => draw.usableShare),
  );
  const doseRatio = figureOf(
    field.ratio,
    draws.map((draw) => draw.ratio),
  );
  return {
    kind: 'map',
    relativeDose: field.stops.map((row) =>
      row.map((stops) => (stops === null ? null : 2 ** (stops - field.middleStops))),
    ),
    relativeU: field.dose.uStops.map((row, r) =>
      row.map((u, c) => (u === null ? null : againstAll(field.dose, r, c, u) * Math.LN2)),
    ),
    basis: field.dose.smooth ? 'smooth' : 'cells',
    tolerancePercent,
    usableShare,
    usableArea,
    doseRatio,
    regions,
    pattern,
    openPercent: errors ? percentOpen(field.dose) : null,
    warnings: beyondWarnings(beyond.flat()),
    sentence: sentenceOf(cells.length, cells[0].length, tolerancePercent, usableShare, usableArea, pattern),
    ...(pattern.phrase && {
      phrase: phrase('bed-map', {
        tolerancePercent,
        share: usableShare.value ?? 0,
        rows: cells.length,
        columns: cells[0].length,
        area: usableArea,
        pattern: pattern.phrase,
      }),
    }),
  };
}

function check(cells: readonly (readonly (SheetCell | null)[])[], tolerancePercent: number): void {
  const columns = cells[0]?.length ?? 0;
  const fits = (n: number) => n >= LEAST_PER_SIDE && n <= MOST_PER_SIDE;
  if (!fits(cells.length) || !fits(columns) || cells.some((row) => row.length !== columns)) {
    throw new AnalysisError(
      'comparison-invalid',
      `A sheet is read in ${LEAST_PER_SIDE} to ${MOST_PER_SIDE} rows of as many cells each, received ${cells.length} rows. Give a full grid.`,
      {
        phrase: phrase('bed-rows-unfit', { least: LEAST_PER_SIDE, most: MOST_PER_SIDE, rows: cells.length }),
      },
    );
  }
  if (
    cells
      .flat()
      .some((cell) => cell !== null && !(Number.isFinite(cell.L) && cell.uL > 0 && Number.isFinite(cell.uL)))
  ) {
    throw new AnalysisError(
      'comparison-invalid',
      'Every cell needs an L* and an uncertainty above 0, or null.',
      { phrase: phrase('bed-cell-unfit', {}) },
    );
  }
  if (!(tolerancePercent >= 1 && tolerancePercent <= 50)) {
    throw new AnalysisError(
      'comparison-invalid',
      `±${tolerancePercent} % is not usable. Give a tolerance of 1 to 50 %.`,
      { phrase: phrase('bed-tolerance-unfit', { percent: tolerancePercent, least: 1, most: 50 }) },
    );
  }
}

interface SheetDose {
  readonly dose: DoseField;
  /** What counts as dose, in stops: the smooth field where it fits, else the cells. */
  readonly stops: readonly (readonly (number | null)[])[];
  readonly middleStops: number;
  readonly usableShare: number;
  readonly ratio: number;
}

/** Where does a cell lie against what the recorded strip has shown: past its longest step, or a stop and more past it? */
function beyondStrip(
  cells: readonly (readonly (SheetCell | null)[])[],
  { curve }: RecordedCurve,
): ('near' | 'far' | null)[][] {
  return cells.map((row) =>
    row.map((cell) => {
      const seconds = cell && shapeExposure(curve.shape, cell.L);
      if (seconds === null || seconds <= curve.longestSeconds) return null;
      return seconds <= 2 * curve.longestSeconds ? 'near' : 'far';
    }),
  );
}

function beyondWarnings(beyond: readonly ('near' | 'far' | null)[]): Warning[] {
  const near = beyond.filter((where) => where === 'near').length;
  if (near === 0) return [];
  return [
    {
      code: 'cells-beyond-curve',
      message: `${near} of ${beyond.length} cells are deeper than the longest step of the recorded strip, where its curve is extrapolated: trust them less, or expose the sheet for a shorter time.`,
      phrase: phrase('cells-beyond-curve', { near, of: beyond.length }),
    },
  ];
}

/** Cells as they could as well have been read: what their errors have in common drawn anew, their own noise left as it is. */
function redrawnBy(
  cells: readonly (readonly (SheetCell | null)[])[],
  { covarianceL, ownVarianceL, seed = 1 }: CellErrors,
): () => (SheetCell | null)[][] {
  const columns = cells[0].length;
  const common = covarianceL.map((row, i) =>
    row.map((v, j) => (i === j ? Math.max(0, v - ownVarianceL[i]) : v)),
  );
  const root = rootOf(common);
  const random = xoroshiro128plus(seed);
  const normal = () =>
    Math.sqrt(-2 * Math.log(1 - uniformFloat64(random))) * Math.cos(2 * Math.PI * uniformFloat64(random));
  return () => {
    const errors = whiten(root, covarianceL.map(normal));
    return cells.map((row, r) =>
      row.map((cell, c) => cell && { ...cell, L: cell.L + errors[r * columns + c] }),
    );
  };
}

/** Uncertainty of one cell against the mean of all. */
function againstAll({ together }: DoseField, row: number, column: number, u: number): number {
  if (!together) return u;
  const n = together.places.length;
  return uOfSum(
    together.stops,
    together.places.map(([r, c]) => (r === row && c === column ? 1 : 0) - 1 / n),
  );
}

function percentOpen(dose: DoseField): { readonly across: number; readonly down: number } {
  const { across, down } = openStops(dose);
  const percent = (stops: number) => 100 * (2 ** stops - 1);
  return { across: percent(across), down: percent(down) };
}

function fieldOf(
  cells: readonly (readonly (SheetCell | null)[])[],
  shape: CurveShape,
  tolerancePercent: number,
  errors: CellErrors | undefined,
): SheetDose {
  const exposures = cells.map((row) =>
    row.map((cell) => (cell === null ? null : shapeExposure(shape, cell.L))),
  );
  const stops = exposures.map((row) =>
    row.map((seconds) => (seconds !== null && seconds > 0 ? Math.log2(seconds) : null)),
  );
  const uStops = exposures.map((row, r) =>
    row.map((seconds, c) => {
      const cell = cells[r][c];
      return stops[r][c] === null || seconds === null || cell === null
        ? null
        : cell.uL / shapeSlopePerStop(shape, seconds);
    }),
  );
  const dose = fitDoseField(stops, uStops, errors ? together(cells, uStops, errors) : null);
  const counted = dose.smooth ? dose.fitted : stops;
  const present = counted.flat().filter((value) => value !== null);
  const window = evenWindow(present, tolerancePercent);
  return {
    dose,
    stops: counted,
    middleStops: window.middleStops,
    usableShare: window.count / present.length,
    ratio: 2 ** (Math.max(...present) - Math.min(...present)),
  };
}

/** The cells' covariance in stops: by the same slopes that turn each cell's u(L*) into stops. */
function together(
  cells: readonly (readonly (SheetCell | null)[])[],
  uStops: readonly (readonly (number | null)[])[],
  { covarianceL }: CellErrors,
): CellCovariance {
  const columns = cells[0].length;
  const present = cells.flatMap((row, r) =>
    row.flatMap((cell, c) => {
      const u = uStops[r][c];
      return cell === null || u === null
        ? []
        : [{ place: [r, c] as const, index: r * columns + c, perL: u / cell.uL }];
    }),
  );
  return {
    places: present.map(({ place }) => place),
    stops: present.map((one) =>
      present.map((other) => one.perL * other.perL * covarianceL[one.index][other.index]),
    ),
  };
}

const INSTEAD = {
  photograph: 'Photograph it again so that the whole sheet can be read',
  half: 'Expose another sheet for half the time',
  twice: 'Expose another sheet for twice the time, and check the light source if it stays blank',
} as const;

function exposeAgain(
  count: number,
  tooPale: number,
  tooDeep: number,
  missing: number,
): { readonly sentence: string; readonly phrase: Phrase } {
  const instead = missing > tooPale + tooDeep ? 'photograph' : tooDeep > tooPale ? 'half' : 'twice';
  return {
    sentence: `Of ${count} cells ${tooPale} are too pale, ${tooDeep} too deep and ${missing} missing to tell their dose. ${INSTEAD[instead]}: a map needs mid depth, 50 to 80 %.`,
    phrase: phrase('bed-not-readable', { count, tooPale, tooDeep, missing, instead }),
  };
}

function sentenceOf(
  rows: number,
  columns: number,
  tolerancePercent: number,
  share: Figure,
  area: GridArea | null,
  pattern: BedPattern,
): string {
  const whole = area !== null && area.rows === rows && area.columns === columns;
  const areaText = whole
    ? 'the whole sheet can be used'
    : area === null
      ? 'no part can be used'
      : `the largest usable rectangle is ${area.rows} × ${area.columns} of ${rows} × ${columns} cells, from row ${area.row + 1}, column ${area.column + 1}`;
  return `Within ±${tolerancePercent} % lie ${(100 * (share.value ?? 0)).toFixed(0)} % of the cells; ${areaText}. ${pattern.text}`;
}
