import { formatClock } from '../plan/time.ts';
import { roundToTimer } from '../plan/timer.ts';

/** What a timer can be set to unless told: whole seconds to 2 min, 5 s to 10 min, 15 s above. */
export function timerStepFor(seconds: number): number {
  return seconds < 120 ? 1 : seconds < 600 ? 5 : 15;
}

/** Nearest time that the timer can be set to; never 0. `timerStepSeconds`: the timer's own step, where it has one. */
export function settable(seconds: number, timerStepSeconds?: number): number {
  return roundToTimer(seconds, timerStepSeconds ?? timerStepFor(seconds));
}

/** A time for a sentence: mm:ss, with a tenth only below 10 s. */
export function clock(seconds: number): string {
  return formatClock(seconds < 10 ? Math.round(seconds * 10) / 10 : Math.round(seconds));
}
