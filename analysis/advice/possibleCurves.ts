import type { CurveShape } from '../curve/curve.ts';
import { shapeLightness } from '../curve/shape.ts';

/** Errors of a strip yet to be made: each step's own variance of L*, and one that all steps of a photo share. */
export interface StepErrors {
  readonly single: readonly number[];
  readonly shared: number;
}

/** Curves that the strips so far allow, in rising order of their answer. */
export interface PossibleCurves {
  readonly shapes: readonly CurveShape[];
  /** log2 of each curve's answer in seconds, rising; held at what a strip may reach. */
  readonly answerStops: readonly number[];
  /** L* of every curve after so many seconds; kept, as the series tried share many times. */
  readonly lightness: (seconds: number) => Float64Array;
}

/** @param secondsOn the answer on one curve; Infinity where it never gets there. @param latest seconds, held there. */
export function possibleCurves(
  shapes: readonly CurveShape[],
  secondsOn: (shape: CurveShape) => number,
  earliest: number,
  latest: number,
): PossibleCurves {
  const sorted = shapes
    .map((shape) => ({
      shape,
      stops: Math.log2(Math.min(latest, Math.max(earliest, secondsOn(shape)))),
    }))
    .sort((one, other) => one.stops - other.stops);
  const known = new Map<number, Float64Array>();
  return {
    shapes: sorted.map(({ shape }) => shape),
    answerStops: sorted.map(({ stops }) => stops),
    lightness: (seconds) => {
      let values = known.get(seconds);
      if (!values) {
        values = Float64Array.from(sorted, ({ shape }) => shapeLightness(shape, seconds));
        known.set(seconds, values);
      }
      return values;
    },
  };
}

const leftOut = 0.05;

/**
 * If the curve at `truth` were the true one, how wide would the 90 % interval be after a strip of these steps? Every
 * possible curve counts by how well it would explain the new steps, so that models that part in the tail are told apart
 * only by steps that lie there. Too narrow where hardly any other curve is left; the caller knows a bound for that.
 */
export function widthAfter(
  { answerStops, lightness }: PossibleCurves,
  seconds: readonly number[],
  { single, shared }: StepErrors,
  truth: number,
): number {
  const count = answerStops.length;
  if (squares.length < count) [squares, sums] = [new Float64Array(count), new Float64Array(count)];
  squares.fill(0);
  sums.fill(0);
  let information = 0;
  for (let i = 0; i < seconds.length; i++) {
    const weight = 1 / single[i];
    information += weight;
    addMisses(lightness(seconds[i]), truth, weight, count);
  }
  return weightedWidth(answerStops, shared / (1 + shared * information), count);
}

// Kept from call to call, and loops outside closures: a next strip asks a thousand times.
let squares = new Float64Array(0);
let sums = new Float64Array(0);

/** By how much each curve misses what the true one shows after one time. */
function addMisses(L: Float64Array, truth: number, weight: number, count: number): void {
  const shown = L[truth];
  for (let j = 0; j < count; j++) {
    const missed = L[j] - shown;
    squares[j] += weight * missed * missed;
    sums[j] += weight * missed;
  }
}

/** Between which answers does the middle 90 % of the curves' weights lie? The sums of squares become the weights. */
function weightedWidth(answerStops: readonly number[], common: number, count: number): number {
  let total = 0;
  for (let j = 0; j < count; j++) {
    squares[j] = Math.exp(-(squares[j] - common * sums[j] * sums[j]) / 2);
    total += squares[j];
  }
  return (
    weightedAt(answerStops, (1 - leftOut) * total, count) - weightedAt(answerStops, leftOut * total, count)
  );
}

function weightedAt(answerStops: readonly number[], share: number, count: number): number {
  let passed = 0;
  for (let j = 0; j < count; j++) {
    passed += squares[j];
    if (passed >= share) return answerStops[j];
  }
  return answerStops[count - 1];
}
