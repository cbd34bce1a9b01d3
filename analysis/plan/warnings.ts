import type { Curve } from '../curve/curve.ts';
import type { Warning } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { ASSUMED_SCALE_STOPS } from './start.ts';
import { formatClock, formatStops } from './time.ts';

/** What is known of a dye's curve; a `Curve` has both. */
export type DyeScale = Pick<Curve, 'exposureScaleStops' | 'contrastLPerStop'>;

/** Lightness per stop at half depth while the dye is unknown: a mid-strength dye. Common practice, no source. */
const ASSUMED_CONTRAST = 8;
/** Two hands need about this long to move a cover. Common practice, no source. */
const SECONDS_PER_MOVE = 5;

/**
 * How close can two steps be and still be told apart where the curve is steepest? Twice the uncertainty of their
 * difference, over the contrast.
 *
 * @param contrastLPerStop L* per stop at half depth; null takes 8, a mid-strength dye.
 * @param uL one standard uncertainty of a step's L*.
 * @returns stops.
 * @example separableStops(8, 0.5) // 0.1768
 */
export function separableStops(contrastLPerStop: number | null, uL: number): number {
  const contrast = contrastLPerStop !== null && contrastLPerStop > 0 ? contrastLPerStop : ASSUMED_CONTRAST;
  return (2 * Math.SQRT2 * uL) / contrast;
}

/**
 * Are the steps too far apart to trace the curve, or closer than a reading can tell apart? Too far: fewer than three
 * steps would fall between 10 and 90 % depth. One warning of each kind, about the worst pair.
 *
 * @param seconds exposed steps, rising, without a step set apart on purpose.
 * @param dye what is known of the dye; null takes a first-order build-up of medium strength.
 * @param uL one standard uncertainty of a step's L*.
 * @see [domain-2.4], [domain-6.2]
 */
export function spacingWarnings(seconds: readonly number[], dye: DyeScale | null, uL: number): Warning[] {
  const gaps = seconds.slice(1).map((time, i) => Math.log2(time / seconds[i]));
  if (gaps.length === 0) return [];
  const warnings: Warning[] = [];
  const known = dye?.exposureScaleStops ?? null;
  const scale = known ?? ASSUMED_SCALE_STOPS;
  const widest = gaps.indexOf(Math.max(...gaps));
  if (gaps[widest] > scale / 3 + 1e-6) {
    const whose = known === null ? 'an ordinary dye (yours is not known yet)' : 'this dye';
    warnings.push({
      code: 'steps-too-coarse',
      message: `Steps ${widest + 1} and ${widest + 2} lie ${formatStops(gaps[widest])} apart, but ${whose} goes from 10 to 90 % depth in ${scale.toFixed(1)} stops: fewer than three steps would fall there. Put them at most ${(scale / 3).toFixed(1)} stops apart.`,
      phrase: phrase('plan-too-coarse', {
        step: widest + 1,
        gap: gaps[widest],
        known: known !== null,
        scale,
      }),
    });
  }
  const narrowest = gaps.indexOf(Math.min(...gaps));
  const separable = separableStops(dye?.contrastLPerStop ?? null, uL);
  if (gaps[narrowest] < separable - 1e-6) {
    warnings.push({
      code: 'steps-too-fine',
      message: `Steps ${narrowest + 1} and ${narrowest + 2} lie ${gaps[narrowest].toFixed(2)} stops apart; with ±${uL} L* per reading even the steepest part tells only ${separable.toFixed(2)} stops apart. Put them further apart, or expose each twice.`,
      phrase: phrase('plan-too-fine', { step: narrowest + 1, gap: gaps[narrowest], uL, separable }),
    });
  }
  return warnings;
}

interface Step {
  readonly seconds: number;
  readonly wantedSeconds: number;
}

/**
 * What did the timer do to the series? Steps that fall on the same setting are merged, others moved; the plan states
 * the times as set, so nothing is wrong, but the series is not the one asked for.
 */
export function timerWarnings(
  steps: readonly Step[],
  mergedCount: number,
  timerStepSeconds: number,
): Warning[] {
  const warnings: Warning[] = [];
  if (mergedCount > 0) {
    warnings.push({
      code: 'steps-merged',
      message: `${mergedCount} step${mergedCount === 1 ? '' : 's'} fell on a timer setting already taken and ${mergedCount === 1 ? 'is' : 'are'} left out: your timer changes by ${timerStepSeconds} s. Start longer, or put the lamp further away.`,
      phrase: phrase('plan-merged', { count: mergedCount, timerStep: timerStepSeconds }),
    });
  }
  const moved = steps.map((step) => Math.abs(Math.log2(step.seconds / step.wantedSeconds)));
  const worst = moved.indexOf(Math.max(...moved));
  if (moved[worst] > 1 / 12) {
    warnings.push({
      code: 'timer-too-coarse',
      message: `The timer changes by ${timerStepSeconds} s and moves step ${worst + 1} from ${steps[worst].wantedSeconds.toFixed(1)} s to ${steps[worst].seconds} s (${moved[worst].toFixed(2)} stops). The plan states the times as set; a longer series would be truer.`,
      phrase: phrase('plan-timer-coarse', {
        timerStep: timerStepSeconds,
        step: worst + 1,
        wanted: steps[worst].wantedSeconds,
        set: steps[worst].seconds,
        stops: moved[worst],
      }),
    });
  }
  return warnings;
}

/**
 * Is the strip one that a curve can come from: enough steps, a base, a wide enough range, time to move the cover?
 *
 * @param seconds exposed steps, rising.
 * @param options.first the strip has to find the curve.
 * @param options.gapSeconds shortest time between two moves of the hands; null where nothing moves under light.
 */
export function stripWarnings(
  seconds: readonly number[],
  options: {
    readonly first: boolean;
    readonly base: boolean;
    readonly gapSeconds: number | null;
    readonly dye: DyeScale | null;
  },
): Warning[] {
  const warnings: Warning[] = [];
  if (!options.base) {
    warnings.push({
      code: 'base-missing',
      message:
        'Without an unexposed, washed step the depth has nothing to count from. Leave one covered throughout.',
      phrase: phrase('plan-no-base', {}),
    });
  }
  if (seconds.length < 4) {
    warnings.push({
      code: 'few-steps',
      message: `${seconds.length} exposed steps give a guarded answer only: the bend of the curve has to be assumed. Four or more show it.`,
      phrase: phrase('plan-few-steps', { count: seconds.length }),
    });
  }
  const range = Math.log2(seconds[seconds.length - 1] / seconds[0]);
  const scale = options.dye?.exposureScaleStops ?? ASSUMED_SCALE_STOPS;
  if (options.first && range < scale - 1e-6) {
    warnings.push({
      code: 'range-too-narrow',
      message: `From the shortest to the longest step are ${formatStops(range)}; a dye that goes from 10 to 90 % depth in ${scale.toFixed(1)} stops may not show both ends. Add steps.`,
      phrase: phrase('plan-narrow', { range, scale }),
    });
  }
  if (options.gapSeconds !== null && options.gapSeconds < SECONDS_PER_MOVE) {
    warnings.push({
      code: 'moves-too-close',
      message: `Two moves are only ${formatClock(options.gapSeconds)} apart; hands need about ${SECONDS_PER_MOVE} s. Start the series longer, put the lamp further away, or expose scraps in turn.`,
      phrase: phrase('plan-moves-close', { gap: options.gapSeconds, hands: SECONDS_PER_MOVE }),
    });
  }
  return warnings;
}

/** A strip in the sun longer than this is exposed by more than one sun. Common practice, no source. */
const LONGEST_IN_SUN = 3600;

/** Is the strip short enough for the sun to stay alike? */
export function sunWarnings(lampSeconds: number): Warning[] {
  if (lampSeconds <= LONGEST_IN_SUN) return [];
  return [
    {
      code: 'sun-changes',
      message: `The strip takes ${Math.round(lampSeconds / 60)} min, in which the sun itself changes. Expose around noon, wait for a clearer sky, or leave the longest step out.`,
      phrase: phrase('plan-sun-changes', { minutes: Math.round(lampSeconds / 60) }),
    },
  ];
}
