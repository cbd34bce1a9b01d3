import { chromaOf, hueOf } from '../colour/polar.ts';
import type { Curve, CurveShape } from '../curve/curve.ts';
import { colourAt, depthPercent, exposureFor } from '../curve/evaluate.ts';
import { shapeSecondsToDepth, shapeSlopePerStop } from '../curve/landmarks.ts';
import { shapeDeepest, shapeExposure } from '../curve/shape.ts';
import { AnalysisError } from '../errors.ts';
import { type Phrase, phrase } from '../phrases.ts';
import { type BandPoint, curveBand } from './band.ts';
import { type Figure, figureOf, intervalsPart, normalFigure } from './interval.ts';
import type { RecordedCurve } from './recorded.ts';

export interface DyeEntry extends RecordedCurve {
  readonly name: string;
  readonly cloth: string;
  readonly light: string;
}

export interface CompareOptions {
  /** Depth, in percent of each dye's own range, at which speeds are compared; 50 unless said otherwise. */
  readonly depthPercent?: number;
  /** A lightness that all dyes are timed to; none unless said otherwise. */
  readonly targetL?: number;
}

/** What one dye does on this cloth under this light. Depths are of its own range. */
export interface DyeFigures {
  readonly name: string;
  readonly secondsToDepth: Figure;
  readonly secondsTo90: Figure;
  readonly contrastLPerStop: Figure;
  readonly exposureScaleStops: Figure;
  readonly deepestL: Figure;
  /** Colour where it is deepest; a*, b* are taken to be as uncertain as L* there. Hue in degrees. */
  readonly deepestChroma: Figure;
  readonly deepestHue: Figure;
  /** Null figures where there is no target, or the dye doesn't get there. */
  readonly secondsToTarget: Figure;
}

export type ComparedFigure = Exclude<keyof DyeFigures, 'name'>;

export interface Difference {
  readonly figure: ComparedFigure;
  /**
   * Second minus first with a 90 % interval. For times in stops: positive where the second dye is faster. Hue the short
   * way round.
   */
  readonly difference: Figure;
  readonly unit: 'stops' | 'L*' | 'L* per stop' | 'C*' | 'degrees';
  /** `different` only where the two intervals part; `unknown` where one dye has no such number. */
  readonly verdict: 'different' | 'not-separable' | 'unknown';
}

export interface DyePair {
  readonly first: string;
  readonly second: string;
  readonly differences: readonly Difference[];
  /** Is the second slower, paler, both or neither? One sentence with the numbers. */
  readonly sentence: string;
  readonly phrase?: Phrase;
}

export type DyeComparison =
  | { readonly kind: 'not-comparable'; readonly reason: string; readonly phrase?: Phrase }
  | {
      readonly kind: 'compared';
      readonly depthPercent: number;
      readonly targetL: number | null;
      readonly dyes: readonly DyeFigures[];
      /** How surely each curve is known, in the order of the dyes. */
      readonly bands: readonly (readonly BandPoint[])[];
      readonly pairs: readonly DyePair[];
    };

const UNITS: Readonly<Record<ComparedFigure, Difference['unit']>> = {
  secondsToDepth: 'stops',
  secondsTo90: 'stops',
  secondsToTarget: 'stops',
  exposureScaleStops: 'stops',
  contrastLPerStop: 'L* per stop',
  deepestL: 'L*',
  deepestChroma: 'C*',
  deepestHue: 'degrees',
};

const TIMES: readonly ComparedFigure[] = ['secondsToDepth', 'secondsTo90', 'secondsToTarget'];
/** Below this chroma a colour has no hue worth comparing. Common practice, no source. */
const LEAST_CHROMA = 4;

/**
 * Is this dye slower, or just paler? Sets dyes on one cloth under one light side by side: speed in stops at equal depth
 * of their own ranges, contrast, exposure scale, deepest lightness, hue and chroma there, and the time to a common
 * lightness; each with a 90 % interval. A difference is called one only where the two intervals part, which is stricter
 * than asking whether the interval of the difference leaves out zero.
 *
 * @param entries two or more dyes with curve and bootstrap set; same cloth and light, else `not-comparable`.
 * @param options depth above 0 and below 100 %; target L* above 0 and below 100.
 * @throws AnalysisError `comparison-invalid` with fewer than two dyes, equal names, or options out of range.
 * @see method.md §9, [domain-2.18]
 * @example compareDyes([{ name: 'a', cloth: 'silk', light: 'sun', curve, set }, { name: 'b', cloth: 'hemp', light: 'sun', curve, set }]).kind // "not-comparable"
 */
export function compareDyes(entries: readonly DyeEntry[], options: CompareOptions = {}): DyeComparison {
  const depth = options.depthPercent ?? 50;
  const targetL = options.targetL ?? null;
  check(entries, depth, targetL);
  const apart = mixedConditions(entries);
  if (apart !== null) return { kind: 'not-comparable', ...apart };
  const drawn = entries.map((entry) => drawsOf(entry, depth, targetL));
  const dyes = entries.map((entry, i) => figuresOf(entry.name, drawn[i]));
  const pairs = dyes.flatMap((_, i) =>
    dyes.slice(i + 1).map((_, k) => pairOf(dyes[i], dyes[i + 1 + k], drawn[i], drawn[i + 1 + k], depth)),
  );
  return { kind: 'compared', depthPercent: depth, targetL, dyes, bands: entries.map(curveBand), pairs };
}

function check(entries: readonly DyeEntry[], depth: number, targetL: number | null): void {
  if (entries.length < 2 || new Set(entries.map((entry) => entry.name)).size < entries.length) {
    throw new AnalysisError(
      'comparison-invalid',
      'Give at least two dyes to compare, each with a name of its own.',
      { phrase: phrase('compare-too-few', {}) },
    );
  }
  if (!(depth > 0 && depth < 100) || (targetL !== null && !(targetL > 0 && targetL < 100))) {
    throw new AnalysisError(
      'comparison-invalid',
      `A depth of ${depth} % or a target of L* ${targetL} can't be compared at. Give numbers above 0 and below 100.`,
      { phrase: phrase('compare-beyond', { depthPercent: depth, targetL }) },
    );
  }
}

function mixedConditions(
  entries: readonly DyeEntry[],
): { readonly reason: string; readonly phrase: Phrase } | null {
  for (const what of ['cloth', 'light'] as const) {
    const different = [...new Set(entries.map((entry) => entry[what].trim().toLowerCase()))];
    if (different.length > 1) {
      return {
        reason: `The strips differ in ${what} (${different.join(', ')}), so a difference would not be the dye's. Compare strips on one cloth under one light.`,
        phrase: phrase(`mixed-${what}s`, { names: different }),
      };
    }
  }
  return null;
}

/** A number with what its interval comes from: draws of the curve, or a standard uncertainty of its own. */
type Spread = { readonly value: number | null } & (
  | { readonly draws: readonly (number | null)[] }
  | { readonly u: number }
);
type DyeDraws = Readonly<Record<ComparedFigure, Spread>>;

function intervalOf(spread: Spread): Figure {
  return 'draws' in spread ? figureOf(spread.value, spread.draws) : normalFigure(spread.value, spread.u);
}

function drawsOf(entry: DyeEntry, depth: number, targetL: number | null): DyeDraws {
  const { curve, set } = entry;
  const over = (value: number | null, read: (shape: CurveShape) => number | null): Spread => ({
    value,
    draws: value === null ? [] : set.shapes.map(read),
  });
  const vouched = (seconds: number | null) =>
    seconds !== null && seconds > 0 && seconds <= 2 * curve.longestSeconds ? seconds : null;
  const target = targetL === null ? null : vouched(exposureFor(curve, targetL));
  const { chroma, hue, u } = deepestColour(curve);
  return {
    secondsToDepth: over(vouched(shapeSecondsToDepth(curve.shape, depth)), (shape) =>
      shapeSecondsToDepth(shape, depth),
    ),
    secondsTo90: over(vouched(curve.secondsTo90), (shape) => shapeSecondsToDepth(shape, 90)),
    contrastLPerStop: over(curve.contrastLPerStop, contrastOf),
    exposureScaleStops: over(curve.exposureScaleStops, scaleOf),
    deepestL: over(curve.deepestL, shapeDeepest),
    secondsToTarget: over(target, (shape) => (targetL === null ? null : shapeExposure(shape, targetL))),
    deepestChroma: { value: chroma, u },
    deepestHue:
      chroma < LEAST_CHROMA + 2 * u
        ? { value: null, u: 0 }
        : { value: hue, u: (u / chroma) * (180 / Math.PI) },
  };
}

function contrastOf(shape: CurveShape): number | null {
  const half = shapeSecondsToDepth(shape, 50);
  return half === null ? null : shapeSlopePerStop(shape, half);
}

function scaleOf(shape: CurveShape): number | null {
  const [from, to] = [shapeSecondsToDepth(shape, 10), shapeSecondsToDepth(shape, 90)];
  return from === null || to === null || !(from > 0) ? null : Math.log2(to / from);
}

function deepestColour(curve: Curve): { chroma: number; hue: number; u: number } {
  const deep = curve.points.filter((point) => depthPercent(curve, point.L) >= 75);
  const darkest = curve.points.reduce((best, point) => (point.L < best.L ? point : best));
  const from = deep.length > 0 ? deep : [darkest];
  const colour = colourAt(curve, Math.max(...from.map((point) => point.seconds)));
  return {
    chroma: chromaOf(colour),
    hue: hueOf(colour),
    u: Math.sqrt(from.reduce((sum, point) => sum + point.uL ** 2, 0) / from.length),
  };
}

function figuresOf(name: string, drawn: DyeDraws): DyeFigures {
  const figure = (key: ComparedFigure) => intervalOf(drawn[key]);
  return {
    name,
    secondsToDepth: figure('secondsToDepth'),
    secondsTo90: figure('secondsTo90'),
    contrastLPerStop: figure('contrastLPerStop'),
    exposureScaleStops: figure('exposureScaleStops'),
    deepestL: figure('deepestL'),
    deepestChroma: figure('deepestChroma'),
    deepestHue: figure('deepestHue'),
    secondsToTarget: figure('secondsToTarget'),
  };
}

function pairOf(
  first: DyeFigures,
  second: DyeFigures,
  drawn1: DyeDraws,
  drawn2: DyeDraws,
  depth: number,
): DyePair {
  const differences = (Object.keys(UNITS) as ComparedFigure[]).map((figure): Difference => {
    const [one, other] = [drawn1[figure], drawn2[figure]];
    const known = one.value !== null && other.value !== null;
    return {
      figure,
      unit: UNITS[figure],
      difference: known ? differenceOf(figure, one, other) : { value: null, low: null, high: null },
      verdict: !known
        ? 'unknown'
        : part(figure, first[figure], second[figure])
          ? 'different'
          : 'not-separable',
    };
  });
  return {
    first: first.name,
    second: second.name,
    differences,
    sentence: sentenceOf(first, second, differences, depth),
    phrase: phrase('dye-pair', {
      first: first.name,
      second: second.name,
      depthPercent: depth,
      speed: comparedOf(differences, 'secondsToDepth'),
      deepest: comparedOf(differences, 'deepestL'),
    }),
  };
}

function comparedOf(differences: readonly Difference[], figure: ComparedFigure) {
  const { difference, verdict } = differences.find((d) => d.figure === figure) as Difference;
  return { ...difference, verdict };
}

function differenceOf(figure: ComparedFigure, one: Spread, other: Spread): Figure {
  const subtract = subtractionOf(figure);
  const value = subtract(one.value, other.value);
  if ('u' in one && 'u' in other) return normalFigure(value, Math.hypot(one.u, other.u));
  if ('draws' in one && 'draws' in other)
    return figureOf(value, pairedDraws(one.draws, other.draws, subtract));
  return { value, low: null, high: null };
}

type Subtraction = (one: number | null, other: number | null) => number | null;

function subtractionOf(figure: ComparedFigure): Subtraction {
  if (TIMES.includes(figure)) {
    return (one, other) =>
      one === null ? null : other === null ? Number.NEGATIVE_INFINITY : Math.log2(one / other);
  }
  if (figure === 'deepestHue') return (one, other) => turn((other ?? 0) - (one ?? 0));
  return (one, other) => (one === null || other === null ? null : other - one);
}

/** Degrees, −180 to 180. */
function turn(degrees: number): number {
  return ((((degrees + 180) % 360) + 360) % 360) - 180;
}

/** Sets made with the same seed share their draws in order, so one is read half a set later. */
function pairedDraws(
  one: readonly (number | null)[],
  other: readonly (number | null)[],
  subtract: Subtraction,
): (number | null)[] {
  const count = Math.min(one.length, other.length);
  return Array.from({ length: count }, (_, i) =>
    subtract(one[i], other[(i + Math.floor(count / 2)) % count]),
  );
}

function part(figure: ComparedFigure, one: Figure, other: Figure): boolean {
  if (figure !== 'deepestHue') return intervalsPart(one, other);
  const by = turn((other.value ?? 0) - (one.value ?? 0));
  const shifted = by - ((other.value ?? 0) - (one.value ?? 0));
  const turned = {
    value: (other.value ?? 0) + shifted,
    low: (other.low ?? 0) + shifted,
    high: (other.high ?? 0) + shifted,
  };
  return intervalsPart(one, turned);
}

function sentenceOf(
  first: DyeFigures,
  second: DyeFigures,
  differences: readonly Difference[],
  depth: number,
): string {
  const of = (figure: ComparedFigure) => differences.find((d) => d.figure === figure) as Difference;
  const names = `${second.name} and ${first.name}`;
  const speed = of('secondsToDepth');
  const deepest = of('deepestL');
  const speedText =
    speed.verdict === 'unknown'
      ? `the speed of ${names} at ${depth} % depth is not known`
      : speed.verdict === 'different'
        ? `${second.name} is ${amountOf(speed, 'stops faster', 'stops slower')} than ${first.name} at ${depth} % depth`
        : `${names} can't be told apart in speed at ${depth} % depth: ${amountOf(speed, 'stops faster', 'stops slower')} at a guess`;
  const depthText =
    deepest.verdict === 'different'
      ? `${second.name} ends ${amountOf(deepest, 'L* paler', 'L* deeper')}`
      : `where they end can't be told apart: ${amountOf(deepest, 'L* paler', 'L* deeper')} at a guess`;
  return `${speedText.charAt(0).toUpperCase()}${speedText.slice(1)}; ${depthText}.`;
}

/** "1.00 stops slower (0.90 to 1.10)": the size, with its interval turned to the same side. */
function amountOf({ difference }: Difference, up: string, down: string): string {
  const value = difference.value ?? 0;
  const [low, high] = value < 0 ? [difference.high, difference.low] : [difference.low, difference.high];
  const said = (end: number | null) => (end === null ? 'open' : (end * Math.sign(value || 1)).toFixed(2));
  return `${Math.abs(value).toFixed(2)} ${value < 0 ? down : up} (${said(low)} to ${said(high)})`;
}
