import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

/**
 * What can the timer be set to, nearest to this time? The setting is a whole number of timer steps and never 0, because
 * a step of no exposure is the base.
 *
 * @param seconds above 0.
 * @param timerStepSeconds smallest change of the timer, 0.01 to 600 s.
 * @returns seconds.
 * @throws AnalysisError `plan-invalid`.
 * @example roundToTimer(10.08, 0.5) // 10
 */
export function roundToTimer(seconds: number, timerStepSeconds: number): number {
  checkTimerStep(timerStepSeconds);
  if (!Number.isFinite(seconds) || seconds <= 0) {
    throw new AnalysisError(
      'plan-invalid',
      `An exposure of ${seconds} s can't be timed. Give a time above 0 s.`,
      { phrase: phrase('plan-time-unfit', { of: 'exposure', seconds }) },
    );
  }
  return ticksToSeconds(Math.max(1, Math.round(seconds / timerStepSeconds)), timerStepSeconds);
}

/** Seconds of a whole number of timer steps, without the binary dust of 0.1 × 3. */
export function ticksToSeconds(ticks: number, timerStepSeconds: number): number {
  return Number((ticks * timerStepSeconds).toPrecision(12));
}

/**
 * Refuses what is no smallest change of a timer, in seconds.
 *
 * @throws AnalysisError `plan-invalid` outside 0.01 s to 600 s.
 */
export function checkTimerStep(timerStepSeconds: number): void {
  if (!(timerStepSeconds >= 0.01 && timerStepSeconds <= 600)) {
    throw new AnalysisError(
      'plan-invalid',
      `A timer step of ${timerStepSeconds} s is not usable. Give the smallest change of your timer, 0.01 s to 600 s.`,
      { phrase: phrase('timer-unfit', { timerStep: timerStepSeconds, least: 0.01, most: 600 }) },
    );
  }
}
