import { formatClock } from '../plan/time.ts';
import { roundToTimer } from '../plan/timer.ts';

/** What a timer can be set to unless told: whole seconds to 2 min, 5 s to 10 min, 15 s above. */
export function timerStepFor(seconds: number): number {
  return seconds < 120 ? 1 : seconds < 600 ? 5 : 15;
}

/**
 * Nearest time that the timer can be set to, not above `latest` where the timer allows it; never 0.
 * `timerStepSeconds`: the timer's own step, where it has one.
 * @example settable(187, 1000) // 185
 */
export function settable(seconds: number, latest: number, timerStepSeconds?: number): number {
  const step = timerStepSeconds ?? timerStepFor(seconds);
  const nearest = roundToTimer(seconds, step);
  return nearest > latest && nearest > step ? roundToTimer(nearest - step, step) : nearest;
}

/** A time for a sentence: mm:ss, with a tenth only below 10 s. */
export function clock(seconds: number): string {
  return formatClock(seconds < 10 ? Math.round(seconds * 10) / 10 : Math.round(seconds));
}
