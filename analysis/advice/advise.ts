import { type BootstrapSet, bootstrapCurve } from '../curve/bootstrap.ts';
import type { Curve, CurveOutcome } from '../curve/curve.ts';
import { depthPercent, lightnessAt } from '../curve/evaluate.ts';
import type { Advice, AdviceStatus, Target } from './advice.ts';
import { interval90 } from './interval.ts';
import { firstStripFor, nextStripFor } from './nextStrip.ts';
import {
  type Answer,
  beyondSentence,
  insideSentence,
  targetWords,
  unattainableSentence,
} from './sentence.ts';
import { settable } from './settable.ts';
import { checkTarget, type TargetOnCurve, targetOnCurve, targetSeconds } from './target.ts';

export interface AdviceOptions {
  /** Curves to take the interval from: make them once with `bootstrapCurve` and pass them for every target. */
  readonly bootstrap?: BootstrapSet;
  /** Seed of the curves, where they are made here. */
  readonly seed?: number;
  /** The timer's own step in seconds; else whole seconds to 2 min, 5 s to 10 min, 15 s above. */
  readonly timerStepSeconds?: number;
}

/** Width in stops from which another strip is worth making. */
const wideStops = 1 / 3;
/** Uncertainty of the deepest, in L*, from which nothing is called unattainable for being deeper. */
const poorlyKnownL = 2;
/** No time is given this many times beyond the longest step, or short of the shortest where there is no base. */
const oneStop = 2;

/**
 * How long to expose for this target, how sure is that, and what to try next?
 *
 * The time is the fitted curve's; the 90 % interval is the 5th to 95th percentile over the bootstrap's curves, its upper
 * end held at one stop beyond the longest step (`highOpen`). Outcomes without a curve give status 'too-few-steps' or
 * 'count-differs', with what to do. Throws `target-invalid` for a target that no cloth can have.
 * Source: docs/method.md §8.
 */
export function advise(outcome: CurveOutcome, target: Target, options: AdviceOptions = {}): Advice {
  checkTarget(target);
  if (outcome.kind !== 'fitted') {
    const countDiffers = outcome.kind === 'count-differs';
    return {
      ...withoutTime(target, countDiffers ? 'count-differs' : 'too-few-steps', null, null),
      sentence: outcome.message,
      nextStrip: countDiffers ? null : firstStripFor(outcome.points, outcome.kind === 'blank'),
    };
  }
  const { curve } = outcome;
  const onCurve = targetOnCurve(curve, target);
  const words = targetWords(target, onCurve.L);
  const set =
    options.bootstrap ?? bootstrapCurve(curve, options.seed === undefined ? {} : { seed: options.seed });
  const seconds = targetSeconds(curve.shape, target, onCurve);
  const status = statusOf(curve, target, onCurve.L, seconds);
  const next = () => nextStripFor(curve, target, onCurve, set, options.timerStepSeconds);

  if (status === 'unattainable') {
    return {
      ...withoutTime(target, status, onCurve.L, onCurve.deltaE),
      sentence: unattainableSentence(curve, target, words, onCurve.L),
      nextStrip: null,
    };
  }
  if (!(seconds > 0) || !isTimed(curve, seconds)) {
    return {
      ...withoutTime(target, 'beyond', onCurve.L, onCurve.deltaE),
      sentence: beyondSentence(curve, words, null),
      nextStrip: next(),
    };
  }
  const answer = answerFor(curve, target, onCurve, seconds, set, options.timerStepSeconds);
  const widthStops = answer.low > 0 ? Math.log2(answer.high / answer.low) : null;
  const sentence =
    status === 'inside' ? insideSentence(curve, words, answer) : beyondSentence(curve, words, answer);
  const short =
    onCurve.deltaE !== null ? ` The swatch stays ΔE00 ${onCurve.deltaE.toFixed(1)} away at best.` : '';
  const wanting = status !== 'inside' || answer.highOpen || widthStops === null || widthStops > wideStops;
  return {
    target,
    status,
    targetL: onCurve.L,
    ...answer,
    widthStops,
    swatchDeltaE: onCurve.deltaE,
    sentence: sentence + short,
    nextStrip: wanting ? next() : null,
  };
}

function withoutTime(
  target: Target,
  status: AdviceStatus,
  targetL: number | null,
  swatchDeltaE: number | null,
) {
  return {
    target,
    status,
    targetL,
    seconds: null,
    low: null,
    high: null,
    highOpen: false,
    widthStops: null,
    roundedSeconds: null,
    roundedL: null,
    roundedDepthPercent: null,
    swatchDeltaE,
  };
}

/** Where does a target lie: on the strip, beyond it, or where this dye never gets? `L` and `seconds` (Infinity: never) are the target's on this curve. */
export function statusOf(curve: Curve, target: Target, L: number, seconds: number): AdviceStatus {
  if (L > curve.baseL) return 'unattainable';
  if (seconds === Number.POSITIVE_INFINITY) {
    if (target.kind === 'depth') return 'unattainable';
    return curve.deepestU !== null && curve.deepestU <= poorlyKnownL ? 'unattainable' : 'beyond';
  }
  const earliest = curve.baseSeen ? 0 : curve.shortestSeconds;
  return seconds >= earliest && seconds <= curve.longestSeconds ? 'inside' : 'beyond';
}

/** Whether a time may be given at all: never more than one stop off the strip. */
function isTimed(curve: Curve, seconds: number): boolean {
  const earliest = curve.baseSeen ? 0 : curve.shortestSeconds / oneStop;
  return seconds >= earliest && seconds <= oneStop * curve.longestSeconds;
}

function answerFor(
  curve: Curve,
  target: Target,
  onCurve: TargetOnCurve,
  seconds: number,
  set: BootstrapSet,
  timerStepSeconds: number | undefined,
): Answer {
  const latest = oneStop * curve.longestSeconds;
  const drawn = interval90(set.shapes.map((shape) => targetSeconds(shape, target, onCurve)));
  const rounded = settable(seconds, latest, timerStepSeconds);
  const roundedL = lightnessAt(curve, rounded);
  return {
    seconds,
    low: Math.min(drawn.low, seconds),
    high: Math.min(latest, Math.max(drawn.high, seconds)),
    highOpen: drawn.high > latest,
    roundedSeconds: rounded,
    roundedL,
    roundedDepthPercent: depthPercent(curve, roundedL),
  };
}
