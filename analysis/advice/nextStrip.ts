import type { BootstrapSet } from '../curve/bootstrap.ts';
import type { Curve, CurvePoint, CurveShape } from '../curve/curve.ts';
import { priorFor } from '../curve/familyFit.ts';
import { type FreeShape, freeShapeOf, timeSensitivity } from '../curve/sensitivity.ts';
import { timingVarianceL } from '../curve/totalCovariance.ts';
import { inverseForm } from '../curve/whiten.ts';
import { phrase } from '../phrases.ts';
import type { NextStrip, Target } from './advice.ts';
import { type PossibleCurves, possibleCurves, type StepErrors, widthAfter } from './possibleCurves.ts';
import { clock, settable } from './settable.ts';
import { type TargetOnCurve, targetSeconds } from './target.ts';

const spacings = [1, 2 / 3, 1 / 2, 1 / 3, 1 / 4];
const counts = [5, 6, 8];
/** Where the middle of the series lies against the best guess of the answer, in stops. */
const offsets = [-0.75, 0, 0.75];
/** Curves of the bootstrap over which a series is tried. */
const curvesTried = 8;
/** Width, in stops, from which reach matters more than lamp time. */
const farOff = 1.5;
/** Curves that the new steps are to choose among. */
const curvesKept = 200;
/** Width, in stops, that counts for a curve on which the answer stays open. */
const openWidth = 8;
/** A series must narrow the interval by this share to be worth more lamp time and steps. */
const worthwhile = 0.05;
/** A strip may reach this far past the longest step so far, in stops; it is a test, not advice. */
const furthestStops = 2.5;
/** Far more than sums differ by the order in which they are taken. */
const rounding = 1e-9;
const widthFactor = (2 * 1.6448536) / Math.LN2;

/** Errors of a strip like this one: what a step has by itself at any time, and what all steps of a photo share. */
interface StripNoise {
  readonly singleAt: (seconds: number) => number;
  readonly shared: number;
}

/**
 * Which strip would pin the answer down best? Tries equal-ratio series of 5 to 8 steps around the answer, with and
 * without a step on the plateau or a stop past it, on a spread of the curves that are still possible, and takes the one
 * that should leave the narrowest interval when both strips are fitted together; of series about as good the shorter.
 *
 * The expected width of the 90 % interval is, on each of those curves, the wider of two: by the Fisher information of
 * all steps, with errors as large as in this photo and the timer's; and by which of the possible curves, of all models,
 * the new steps would leave. `expectedWidthStops` is for the new strip read by itself, `expectedTogetherStops` for both.
 */
export function nextStripFor(
  curve: Curve,
  target: Target,
  onCurve: TargetOnCurve,
  set: BootstrapSet,
  timerStepSeconds?: number,
): NextStrip {
  const shapes = spreadOver(set.shapes, curvesTried);
  const latest = curve.longestSeconds * 2 ** furthestStops;
  const middle = middleOf(shapes, target, onCurve, latest, curve.shortestSeconds / 2 ** furthestStops);
  const seconds = usedSeconds(curve);
  const noise = noiseOf(curve);
  const possible = possibleCurves(
    spreadOver(set.shapes, curvesKept),
    (shape) => targetSeconds(shape, target, onCurve),
    curve.shortestSeconds / 2 ** openWidth,
    latest * 2 ** furthestStops,
  );
  const places = possible.shapes.map((_, j) => j);
  const trials = spreadOver(places, curvesTried).flatMap((place) => {
    const free = freeShapeOf(possible.shapes[place]);
    return free ? [trialOn(free, place, target, onCurve, seconds, noise)] : [];
  });
  const series = candidates(middle, latest, plateauSeconds(curve), timerStepSeconds);
  if (trials.length === 0) {
    const chosen = series.find((one) => one.length === 8) ?? series[0];
    return { ...described(chosen, null, null), expectedTogetherStops: null };
  }
  const judged = judgedTogether(trials, possible, series, noise);
  const narrowest = Math.min(...judged.map(({ width }) => width));
  const [best] = judged
    .filter(({ width }) => width <= narrowest * (narrowest < farOff ? 1 + worthwhile : 1))
    .sort((a, b) => costOf(a.one) - costOf(b.one));
  const alone = Math.max(best.width, expected(trials, best.one, errorsAt(best.one, noise), false));
  return described(best.one, alone, best.width);
}

/** Lamp time of a contiguous strip, and what each step costs in cloth and hands: a tenth more. */
function costOf(seconds: readonly number[]): number {
  return seconds[seconds.length - 1] * 1.1 ** seconds.length;
}

/** So many of a list, evenly spread. */
function spreadOver<T>(all: readonly T[], count: number): T[] {
  const every = Math.max(1, all.length / count);
  return Array.from({ length: Math.min(count, all.length) }, (_, i) => all[Math.floor((i + 0.5) * every)]);
}

/** A first strip where there is no curve yet: a stop apart, around the steps there are, or beyond them if all is blank. */
export function firstStripFor(points: readonly CurvePoint[], blank: boolean): NextStrip | null {
  const longest = Math.max(0, ...points.map((point) => point.seconds));
  if (longest <= 0) return null;
  const from = blank ? longest : longest / 8;
  const seconds = [
    0,
    ...Array.from({ length: 6 }, (_, i) => settable(from * 2 ** i, Number.POSITIVE_INFINITY)),
  ];
  return {
    seconds: rising(seconds),
    reason: blank
      ? `Once the light source is found to work: six steps a stop apart from ${clock(from)} on, and an unexposed piece.`
      : `Six steps a stop apart around ${clock(longest)} and an unexposed piece show the whole curve.`,
    phrase: blank
      ? phrase('next-after-light', { seconds: from })
      : phrase('next-whole-curve', { seconds: longest }),
    expectedWidthStops: null,
    expectedTogetherStops: null,
  };
}

function described(seconds: readonly number[], alone: number | null, together: number | null): NextStrip {
  const exposed = seconds.slice(1);
  const times = exposed.map(clock).join(', ');
  const width = alone !== null && alone < openWidth * 0.9 ? alone : null;
  const expectation =
    width === null
      ? 'They show where the curve runs there.'
      : `Expected to leave an interval of ${width.toFixed(2)} stop by itself.`;
  return {
    seconds,
    reason: `An unexposed piece and ${exposed.length} steps: ${times}. ${expectation}`,
    phrase: phrase('next-steps', { seconds: exposed, widthStops: width }),
    expectedWidthStops: width,
    expectedTogetherStops: together !== null && together < openWidth * 0.9 ? together : null,
  };
}

function usedSeconds(curve: Curve): number[] {
  return curve.used.map((i) => curve.points[i].seconds);
}

function noiseOf(curve: Curve): StripNoise {
  const { covarianceL, used } = curve;
  const n = used.length;
  let diagonal = 0;
  let others = 0;
  for (const i of used)
    for (const j of used)
      if (i === j) diagonal += covarianceL[i][i] / n;
      else others += covarianceL[i][j] / (n * (n - 1));
  const shared = Math.min(Math.max(0, others), 0.95 * diagonal);
  const own = diagonal - shared + curve.extraScatterL ** 2;
  // The series tried share many times.
  const known = new Map<number, number>();
  const singleAt = (seconds: number): number => {
    const single = known.get(seconds) ?? own + timingVarianceL(curve.shape, seconds, curve.timer);
    known.set(seconds, single);
    return single;
  };
  return { shared, singleAt };
}

/** Median of the answer over the curves still possible, within what a strip may cover. */
function middleOf(
  shapes: readonly CurveShape[],
  target: Target,
  onCurve: TargetOnCurve,
  latest: number,
  earliest: number,
): number {
  const answers = shapes
    .map((shape) => targetSeconds(shape, target, onCurve))
    .sort((one, other) => one - other);
  const median = answers[Math.floor((answers.length - 1) / 2)];
  return Math.min(latest / 2, Math.max(earliest, median));
}

function plateauSeconds(curve: Curve): number {
  return Math.max(curve.longestSeconds, Math.min(curve.secondsToFull ?? 0, 2 * curve.longestSeconds));
}

function candidates(
  middle: number,
  latest: number,
  plateau: number,
  timerStepSeconds: number | undefined,
): number[][] {
  const series: number[][] = [];
  for (const count of counts)
    for (const spacing of spacings)
      for (const offset of offsets)
        for (const last of [null, plateau, 2 * plateau]) {
          const rungs = last === null ? count : count - 1;
          const times = Array.from(
            { length: rungs },
            (_, i) => middle * 2 ** (offset + spacing * (i - (rungs - 1) / 2)),
          );
          if (times[0] > middle || times[rungs - 1] < middle || times[rungs - 1] > latest) continue;
          if (last !== null && (last <= times[rungs - 1] * 1.1 || last > latest)) continue;
          if (last !== null) times.push(last);
          const steps = rising([0, ...times.map((time) => settable(time, latest, timerStepSeconds))]);
          if (steps.length === count + 1) series.push(steps);
        }
  return series.length > 0
    ? series
    : [
        rising([
          0,
          ...Array.from({ length: 6 }, (_, i) => settable(middle * 2 ** (i - 3), latest, timerStepSeconds)),
        ]),
      ];
}

function rising(seconds: readonly number[]): number[] {
  return [...new Set(seconds)].sort((one, other) => one - other);
}

/** One possible curve: how its free numbers bear on the answer, and what is known of them already. */
interface Trial {
  readonly free: FreeShape;
  /** Its place among the possible curves. */
  readonly place: number;
  readonly gradient: readonly number[] | null;
  readonly prior: Float64Array;
  readonly known: Float64Array;
  readonly rows: Map<number, readonly number[]>;
}

function trialOn(
  free: FreeShape,
  place: number,
  target: Target,
  onCurve: TargetOnCurve,
  seconds: readonly number[],
  noise: StripNoise,
): Trial {
  const { spread } = priorFor(free.family, seconds);
  const prior = new Float64Array(spread.length ** 2);
  spread.forEach((one, i) => {
    prior[i * spread.length + i] = one ** -2;
  });
  return {
    free,
    place,
    gradient: timeSensitivity(free, (shape) => targetSeconds(shape, target, onCurve)),
    prior,
    known: Float64Array.from(
      information(prior, free.family.sensitivity(free.free, seconds), errorsAt(seconds, noise)),
    ),
    rows: new Map(),
  };
}

function errorsAt(seconds: readonly number[], { singleAt, shared }: StripNoise): StepErrors {
  return { single: seconds.map(singleAt), shared };
}

interface Judged {
  readonly one: readonly number[];
  /** Mean of the widths to be expected; Infinity where it is too wide to be chosen, whatever it is. */
  readonly width: number;
}

/**
 * How wide an interval does each series leave, both strips fitted together? What the Fisher information alone expects is
 * told first, as the less is the sooner a series stands out; the others then need not be followed to their end.
 */
function judgedTogether(
  trials: readonly Trial[],
  possible: PossibleCurves,
  series: readonly (readonly number[])[],
  noise: StripNoise,
): Judged[] {
  const errors = series.map((seconds) => errorsAt(seconds, noise));
  const widths = series.map((seconds, k) =>
    trials.map((trial) => expected([trial], seconds, errors[k], true)),
  );
  const sums = widths.map((of) => of.reduce((sum, width) => sum + width, 0));
  const order = series.map((_, k) => k).sort((one, other) => sums[one] - sums[other]);
  const together = new Array<number>(series.length).fill(Number.POSITIVE_INFINITY);
  let narrowest = Number.POSITIVE_INFINITY;
  for (const k of order) {
    const tooWide = trials.length * narrowest * (1 + worthwhile) * (1 + rounding);
    let sum = 0;
    let left = sums[k];
    for (let t = 0; t < trials.length && sum + left <= tooWide; t++) {
      left -= widths[k][t];
      const width = widthAfter(possible, series[k], errors[k], trials[t].place);
      sum += Math.max(widths[k][t], Math.min(openWidth, width));
      if (t + 1 === trials.length) together[k] = sum / trials.length;
    }
    narrowest = Math.min(narrowest, together[k]);
  }
  return series.map((one, k) => ({ one, width: together[k] }));
}

function expected(
  trials: readonly Trial[],
  seconds: readonly number[],
  errors: StepErrors,
  together: boolean,
): number {
  let sum = 0;
  for (const { free, gradient, prior, known, rows } of trials) {
    if (!gradient) {
      sum += openWidth;
      continue;
    }
    const series = seconds.map((s) => {
      const row = rows.get(s) ?? free.family.sensitivity(free.free, [s])[0];
      rows.set(s, row);
      return row;
    });
    const variance = inverseForm(information(together ? known : prior, series, errors), gradient);
    sum += Math.min(openWidth, widthFactor * Math.sqrt(variance));
  }
  return sum / trials.length;
}

const freeNumbers = 4;
const sums = { sum: new Float64Array(freeNumbers), all: new Float64Array(freeNumbers ** 2) };

/**
 * Information on the free numbers, row by row: what was known before and what steps with single errors and one shared by
 * all add to it (Fisher information; the shared error by Sherman and Morrison). What is returned is written over by the
 * next call.
 */
function information(
  before: Float64Array,
  rows: readonly (readonly number[])[],
  { single, shared }: StepErrors,
): Float64Array {
  const size = rows[0].length;
  const { sum, all } = sums;
  sum.fill(0);
  all.fill(0);
  let weights = 0;
  for (let step = 0; step < rows.length; step++) {
    const row = rows[step];
    const weight = 1 / single[step];
    weights += weight;
    for (let i = 0; i < size; i++) {
      sum[i] += weight * row[i];
      for (let j = 0; j < size; j++) all[i * size + j] += weight * row[i] * row[j];
    }
  }
  const common = shared / (1 + shared * weights);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++)
      all[i * size + j] = before[i * size + j] + all[i * size + j] - common * sum[i] * sum[j];
  return all;
}
