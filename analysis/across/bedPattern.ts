import { type Phrase, phrase } from '../phrases.ts';
import { type DoseField, uOfSum } from './doseField.ts';
import { toleranceStops } from './usableArea.ts';

export type RegionName =
  | 'top left'
  | 'top'
  | 'top right'
  | 'left'
  | 'middle'
  | 'right'
  | 'bottom left'
  | 'bottom'
  | 'bottom right';

export interface BedRegion {
  readonly name: RegionName;
  /** Mean dose against the middle region, as a ratio; null where nothing is read there or in the middle. */
  readonly doseRatio: number | null;
  /** Relative standard uncertainty of it. */
  readonly relativeU: number | null;
}

export type BedPatternCode =
  | 'even'
  | 'one-side-low'
  | 'edges-low'
  | 'middle-low'
  | 'one-band-low'
  | 'bands'
  | 'corner-low'
  | 'patchy'
  | 'not-separable';

export interface BedPattern {
  readonly code: BedPatternCode;
  /** Which side, corner or band; null where the pattern has none. */
  readonly where: string | null;
  /** What is seen and what to try, in general words. */
  readonly text: string;
  readonly phrase?: Phrase;
}

const NAMES: readonly (readonly RegionName[])[] = [
  ['top left', 'top', 'top right'],
  ['left', 'middle', 'right'],
  ['bottom left', 'bottom', 'bottom right'],
];

/** How much light does each ninth of the sheet get, against the middle ninth? Names are as on the sheet. */
export function regionsOf(dose: DoseField): BedRegion[] {
  const means = NAMES.map((line, i) => line.map((_, j) => regionMean(dose, i, j)));
  const middle = means[1][1];
  return NAMES.flatMap((line, i) =>
    line.map((name, j): BedRegion => {
      const mean = means[i][j];
      if (mean === null || middle === null) return { name, doseRatio: null, relativeU: null };
      if (i === 1 && j === 1) return { name, doseRatio: 1, relativeU: 0 };
      return {
        name,
        doseRatio: 2 ** (mean.stops - middle.stops),
        relativeU: uOfDifference(dose, mean, middle) * Math.LN2,
      };
    }),
  );
}

interface RegionMean {
  readonly stops: number;
  readonly u: number;
  /** Weight of each cell, by "row column". */
  readonly weights: ReadonlyMap<string, number>;
}

function uOfDifference({ together }: DoseField, one: RegionMean, other: RegionMean): number {
  if (!together) return Math.hypot(one.u, other.u);
  const weights = together.places.map(
    ([row, column]) =>
      (one.weights.get(`${row} ${column}`) ?? 0) - (other.weights.get(`${row} ${column}`) ?? 0),
  );
  return uOfSum(together.stops, weights);
}

function regionMean(dose: DoseField, i: number, j: number): RegionMean | null {
  const [rows, columns] = [dose.stops.length, dose.stops[0].length];
  let [sum, weight] = [0, 0];
  const raw: [string, number][] = [];
  dose.stops.forEach((line, row) => {
    line.forEach((stops, column) => {
      const u = dose.uStops[row][column];
      if (stops === null || u === null || thirdOf(row, rows) !== i || thirdOf(column, columns) !== j) return;
      sum += stops / u ** 2;
      weight += 1 / u ** 2;
      raw.push([`${row} ${column}`, 1 / u ** 2]);
    });
  });
  if (!(weight > 0)) return null;
  const weights = new Map(raw.map(([place, w]) => [place, w / weight]));
  return { stops: sum / weight, u: 1 / Math.sqrt(weight), weights };
}

function thirdOf(index: number, count: number): number {
  return Math.min(2, Math.floor((3 * (index + 0.5)) / count));
}

const SURE = 2.5;

/**
 * What is the matter with the light, and what could be changed? Looks for bands first, then for one low corner, one low
 * side, low edges and a low middle; each only where it is clear of its own uncertainty and matters at this tolerance.
 *
 * @see [domain-4.4], [domain-4.8], [domain-4.9]
 */
export function bedPattern(dose: DoseField, tolerancePercent: number): BedPattern {
  const matters = toleranceStops(tolerancePercent);
  return (
    bands(dose, matters) ??
    corner(dose, matters) ??
    slopes(dose, matters) ??
    open(dose, matters) ??
    rest(dose, matters)
  );
}

interface Band {
  readonly along: 'row' | 'column';
  readonly index: number;
  readonly stops: number;
}

/** Whole rows or columns apart from the smooth field: a tube by itself, or the spacing of the tubes. */
function bands(dose: DoseField, matters: number): BedPattern | null {
  const found = [...bandsAlong(dose, 'row'), ...bandsAlong(dose, 'column')].filter(
    (band) => Math.abs(band.stops) > matters / 3,
  );
  if (found.length === 0) return null;
  const lowest = found.reduce((low, band) => (band.stops < low.stops ? band : low));
  const where = `${lowest.along} ${lowest.index + 1}`;
  const others = found.filter(
    (band) => band.along === lowest.along && Math.abs(band.index - lowest.index) > 1,
  );
  const alone = others.every((band) => Math.abs(band.stops) < 0.6 * Math.abs(lowest.stops));
  if (lowest.stops < 0 && alone) {
    return {
      code: 'one-band-low',
      where,
      text: `A band at ${where} is ${percentLow(lowest.stops)} low: a tube there may be failing. Tubes are best replaced as a full set; make a new curve after that.`,
      phrase: phrase('bed-band-low', {
        along: lowest.along,
        number: lowest.index + 1,
        share: shareLow(lowest.stops),
      }),
    };
  }
  return {
    code: 'bands',
    where: `${lowest.along}s`,
    text: `Light and dark bands run along the ${lowest.along}s: the bed is too near for the spacing of the tubes. Put it at least as far from the tubes as they are from each other, and make a new curve.`,
    phrase: phrase('bed-bands', { along: lowest.along }),
  };
}

function bandsAlong(dose: DoseField, along: Band['along']): Band[] {
  const residual = (row: number, column: number) => {
    const value = dose.stops[row][column];
    return value === null ? null : value - dose.fitted[row][column];
  };
  const [rows, columns] = [dose.stops.length, dose.stops[0].length];
  const count = along === 'row' ? rows : columns;
  if (count < 5) return [];
  return Array.from({ length: count }, (_, index) => index).flatMap((index) => {
    const across = along === 'row' ? columns : rows;
    const cells = Array.from({ length: across }, (_, k) =>
      along === 'row' ? ([index, k] as const) : ([k, index] as const),
    );
    let [sum, weight] = [0, 0];
    for (const [row, column] of cells) {
      const value = residual(row, column);
      const u = dose.uStops[row][column];
      if (value === null || u === null) continue;
      sum += value / u ** 2;
      weight += 1 / u ** 2;
    }
    const mean = weight > 0 ? sum / weight : 0;
    const u = uOfBand(dose, along, index, weight);
    return Math.abs(mean) > (SURE + 1) * u ? [{ along, index, stops: mean }] : [];
  });
}

/** Of the mean of a row or column beside the smooth field; `weight` is what its cells have together. */
function uOfBand(
  { together, residual, uStops }: DoseField,
  along: Band['along'],
  index: number,
  weight: number,
): number {
  if (!together || !residual) return 1 / Math.sqrt(weight);
  const weights = together.places.map(([row, column]) => {
    const u = uStops[row][column];
    return u === null || (along === 'row' ? row : column) !== index ? 0 : 1 / u ** 2 / weight;
  });
  return uOfSum(residual, weights);
}

/** 90 % of a normal distribution lie within so many standard deviations. */
const WITHIN_90 = 1.645;

/** Stops by which one edge may differ from the one opposite without this reading telling, with 90 %. */
export function openStops({ coefficientU: [, ux, uy] }: DoseField): {
  readonly across: number;
  readonly down: number;
} {
  return { across: 2 * WITHIN_90 * ux, down: 2 * WITHIN_90 * uy };
}

/** Where the photo's own light could hide or feign a tilt that matters, nothing may be called even. */
function open(dose: DoseField, matters: number): BedPattern | null {
  if (!dose.together) return null;
  const { across, down } = openStops(dose);
  if (Math.max(across, down) <= matters) return null;
  const [, x, y] = dose.coefficients;
  return {
    code: 'not-separable',
    where: null,
    text: `The cells differ by up to ${percentLow(2 * Math.hypot(x, y))} from side to side, but the light of the photo itself leaves ${percentLow(across)} from left to right and ${percentLow(down)} from top to bottom open: lamp and photo can't be told apart. Photograph the sheet once more turned end for end, and give both photos.`,
    phrase: phrase('bed-open', {
      tilt: shareLow(2 * Math.hypot(x, y)),
      across: shareLow(across),
      down: shareLow(down),
    }),
  };
}

/** A tilt from side to side, or a fall (or rise) towards the edges. */
function slopes(dose: DoseField, matters: number): BedPattern | null {
  const [, x, y, xx, , yy] = dose.coefficients;
  const [, ux, uy, uxx, , uyy] = dose.coefficientU;
  const tilt = 2 * Math.hypot(x, y);
  const tiltSure = Math.hypot(x / ux, y / uy) > SURE;
  const bowls = [
    { fall: -xx, sure: Math.abs(xx) > SURE * uxx, edges: 'left and right edges' },
    { fall: -yy, sure: Math.abs(yy) > SURE * uyy, edges: 'top and bottom edges' },
  ].filter((bowl) => bowl.sure && Math.abs(bowl.fall) > matters / 2);
  const deepest = Math.max(0, ...bowls.map((bowl) => Math.abs(bowl.fall)));
  if (tiltSure && tilt > matters / 2 && tilt > deepest) {
    const where = sideName(-x, -y);
    return {
      code: 'one-side-low',
      where,
      text: `The ${where} gets ${percentLow(-tilt)} less light than the side opposite: centre and level the lamp over the bed, and check or replace the tubes there (as a full set). Side reflectors help the low side.`,
      phrase: phrase('bed-side-low', { where, share: shareLow(tilt) }),
    };
  }
  if (bowls.length === 0) return null;
  const where = bowls.length === 2 ? 'all edges' : bowls[0].edges;
  if (bowls.every((bowl) => bowl.fall > 0)) {
    return {
      code: 'edges-low',
      where,
      text: `The light falls off towards ${where.startsWith('all') ? where : `the ${where}`}: use the middle, add side reflectors, or use a lamp that reaches further past the sheet.`,
      phrase: phrase('bed-edges-low', { where }),
    };
  }
  return {
    code: 'middle-low',
    where,
    text: `The middle gets less light than ${where.startsWith('all') ? 'the edges' : `the ${where}`}: check the middle tubes, and whether the sheet sags or the glass lifts there.`,
    phrase: phrase('bed-middle-low', { where }),
  };
}

/** One corner by itself: lower than all other ninths by more than those differ among themselves. */
function corner(dose: DoseField, matters: number): BedPattern | null {
  const stops = regionsOf(dose).flatMap(({ name, doseRatio, relativeU }) =>
    doseRatio === null || relativeU === null
      ? []
      : [{ name, stops: Math.log2(doseRatio), u: relativeU / Math.LN2 }],
  );
  const [low, next, ...others] = stops.sort((a, b) => a.stops - b.stops);
  if (stops.length < 5 || !low.name.includes(' ')) return null;
  const apart = next.stops - low.stops;
  const amongOthers = others[others.length - 1].stops - next.stops;
  if (apart < SURE * Math.hypot(low.u, next.u) || apart < matters / 3 || apart < amongOthers) return null;
  return {
    code: 'corner-low',
    where: low.name,
    text: `The ${low.name} corner is ${percentLow(apart)} low: look for a shadow, a tube end or a reflector missing there, or keep work out of it.`,
    phrase: phrase('bed-corner-low', { where: low.name, share: shareLow(apart) }),
  };
}

function rest(dose: DoseField, matters: number): BedPattern {
  const present = (dose.smooth ? dose.fitted : dose.stops).flat().filter((value) => value !== null);
  const range = Math.max(...present) - Math.min(...present);
  if (dose.smooth || range <= matters) {
    return {
      code: 'even',
      where: null,
      text: 'Nothing stands out of the uncertainty: no change needed.',
      phrase: phrase('bed-even', {}),
    };
  }
  return {
    code: 'patchy',
    where: null,
    text: 'Single cells differ without a pattern: rather coating, cloth or wash than the light. Repeat with the sheet turned end for end; what stays with the bed is the light.',
    phrase: phrase('bed-patchy', {}),
  };
}

function sideName(x: number, y: number): string {
  const horizontal = x < 0 ? 'left' : 'right';
  const vertical = y < 0 ? 'top' : 'bottom';
  if (Math.abs(x) > 2 * Math.abs(y)) return `${horizontal} side`;
  if (Math.abs(y) > 2 * Math.abs(x)) return `${vertical} side`;
  return `${vertical} ${horizontal} side`;
}

function shareLow(stops: number): number {
  return 1 - 2 ** -Math.abs(stops);
}

function percentLow(stops: number): string {
  return `${(100 * shareLow(stops)).toFixed(0)} %`;
}
