import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { LONGEST_SECONDS } from './time.ts';

/** Most exposed steps on one strip. */
export const MOST_STEPS = 24;

/**
 * Which times lie a fixed number of stops apart, from the shortest up? t_i = first · 2^(i · stops), so the steps lie
 * evenly on the curve's own log axis.
 *
 * @param firstSeconds the shortest exposure, above 0.
 * @param stopsPerStep 0.05 to 4.
 * @param count exposed steps, 1 to 24; the base comes on top.
 * @returns seconds, rising, not rounded.
 * @throws AnalysisError `plan-invalid`.
 * @see [domain-1.19]
 * @example equalStopSeries(8, 1 / 2, 3) // [8, 11.3137, 16]
 */
export function equalStopSeries(firstSeconds: number, stopsPerStep: number, count: number): number[] {
  checkCount(count);
  checkSeconds(firstSeconds, 'shortest');
  if (!(stopsPerStep >= 0.05 && stopsPerStep <= 4)) {
    throw new AnalysisError(
      'plan-invalid',
      `${stopsPerStep} stops per step can't be planned. Give 0.05 to 4; a first strip takes 1, a second 1/2.`,
      { phrase: phrase('plan-spacing-unfit', { stops: stopsPerStep, least: 0.05, most: 4 }) },
    );
  }
  return checkSeries(Array.from({ length: count }, (_, i) => firstSeconds * 2 ** (i * stopsPerStep)));
}

/**
 * Which times are a fixed number of seconds apart? The ratios shrink along the series (2, 1.5, 1.33 …): coarse at the
 * short end, crowded at the long one.
 *
 * @param firstSeconds the shortest exposure, above 0.
 * @param addedSeconds added per step, above 0.
 * @param count exposed steps, 1 to 24.
 * @returns seconds, rising, not rounded.
 * @throws AnalysisError `plan-invalid`.
 * @see [domain-1.17]
 * @example equalTimeSeries(2, 2, 4) // [2, 4, 6, 8]
 */
export function equalTimeSeries(firstSeconds: number, addedSeconds: number, count: number): number[] {
  checkCount(count);
  checkSeconds(firstSeconds, 'shortest');
  checkSeconds(addedSeconds, 'added');
  return checkSeries(Array.from({ length: count }, (_, i) => firstSeconds + i * addedSeconds));
}

/**
 * Which times lie around a guess, a fixed number of stops apart? With an odd count the guess itself is the middle step;
 * with an even count it is the step just above the middle, so that the strip leans to the short side.
 *
 * @param guessSeconds above 0.
 * @param stopsPerStep 0.05 to 4.
 * @param count exposed steps, 1 to 24.
 * @returns seconds, rising, not rounded.
 * @throws AnalysisError `plan-invalid`.
 * @example aroundSeries(240, 1, 3) // [120, 240, 480]
 */
export function aroundSeries(guessSeconds: number, stopsPerStep: number, count: number): number[] {
  checkSeconds(guessSeconds, 'guess');
  checkCount(count);
  return equalStopSeries(guessSeconds * 2 ** (-Math.floor(count / 2) * stopsPerStep), stopsPerStep, count);
}

/**
 * The times of a list as a series: rising, without the base.
 *
 * @param seconds in any order, each once; a 0 stands for the base and is left out.
 * @returns seconds, rising, not rounded.
 * @throws AnalysisError `plan-invalid`.
 * @example listedTimes([120, 0, 60]) // [60, 120]
 */
export function listedTimes(seconds: readonly number[]): number[] {
  const exposed = seconds.filter((time) => time !== 0).sort((a, b) => a - b);
  checkCount(exposed.length);
  for (const time of exposed) checkSeconds(time, 'listed');
  const twice = exposed.find((time, i) => time === exposed[i - 1]);
  if (twice !== undefined) {
    throw new AnalysisError('plan-invalid', `The list has ${twice} s twice. Give each time once.`, {
      phrase: phrase('plan-twice', { seconds: twice }),
    });
  }
  return checkSeries(exposed);
}

/**
 * How long is each added burst of a cumulative series? The first time, then the differences: what the timer is set to
 * when the lamp is switched off for every move of the cover.
 *
 * @param seconds cumulative exposures, rising.
 * @see [domain-1.19]
 * @example addedBursts([2, 4, 8]) // [2, 2, 4]
 */
export function addedBursts(seconds: readonly number[]): number[] {
  return seconds.map((time, i) => time - (i === 0 ? 0 : seconds[i - 1]));
}

function checkCount(count: number): void {
  if (!Number.isInteger(count) || count < 1 || count > MOST_STEPS) {
    throw new AnalysisError(
      'plan-invalid',
      `${count} steps can't be planned. Give 1 to ${MOST_STEPS}; six or seven make a good first strip.`,
      { phrase: phrase('plan-count-unfit', { count, least: 1, most: MOST_STEPS }) },
    );
  }
}

const NAME_OF_TIME = {
  shortest: 'The shortest exposure',
  added: 'The time added per step',
  guess: 'The guess',
  listed: 'A time of the list',
} as const;

function checkSeconds(seconds: number, of: keyof typeof NAME_OF_TIME): void {
  if (!Number.isFinite(seconds) || seconds <= 0) {
    throw new AnalysisError('plan-invalid', `${NAME_OF_TIME[of]} is ${seconds} s. Give a time above 0 s.`, {
      phrase: phrase('plan-time-unfit', { of, seconds }),
    });
  }
}

function checkSeries(seconds: number[]): number[] {
  const longest = seconds.at(-1) as number;
  if (!(longest <= LONGEST_SECONDS)) {
    throw new AnalysisError(
      'plan-invalid',
      'The longest step would take more than 24 h. Start shorter, plan fewer steps or put them closer.',
      { phrase: phrase('plan-too-long', {}) },
    );
  }
  return seconds;
}
