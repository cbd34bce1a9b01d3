import { AnalysisError, type Warning } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { aroundSeries, equalStopSeries, equalTimeSeries, listedTimes } from './series.ts';
import { type Sky, skyFactor } from './sky.ts';
import { formatClock, formatStops } from './time.ts';

/** What shines: tubes need warming up, the sun does not repeat. */
export type LightKind = 'tubes' | 'led' | 'sun' | 'other';

/** What the printer knows before the strip. */
export type PlanStart =
  | {
      readonly kind: 'equal-stop';
      readonly firstSeconds: number;
      readonly stopsPerStep: number;
      readonly count: number;
    }
  | {
      readonly kind: 'equal-time';
      readonly firstSeconds: number;
      readonly addedSeconds: number;
      readonly count: number;
    }
  /** Around a guess; half stops and five steps unless said otherwise. */
  | {
      readonly kind: 'around';
      readonly guessSeconds: number;
      readonly stopsPerStep?: number;
      readonly count?: number;
    }
  /** A maker's suggested time, and the light and sky that it is for. */
  | {
      readonly kind: 'maker';
      readonly seconds: number;
      readonly madeFor: LightKind;
      readonly madeForSky?: Sky;
      /** The sky you print under; only with the sun. */
      readonly sky?: Sky;
      readonly stopsPerStep?: number;
      readonly count?: number;
    }
  /** Just these times, in any order, each once; 0 stands for the base and is not counted. */
  | { readonly kind: 'times'; readonly seconds: readonly number[] }
  /** Nothing: a wide first strip from `firstSeconds` (30 s) up. */
  | { readonly kind: 'nothing'; readonly firstSeconds?: number; readonly count?: number };

/** The times wanted, before the timer rounds them, and why these. */
export interface WantedSeries {
  readonly seconds: readonly number[];
  readonly reason: string;
  readonly warnings: readonly Warning[];
  /** True where the series has to find the curve rather than refine it. */
  readonly first: boolean;
}

/** Stops from 10 to 90 % depth of a first-order build-up, the assumption while the dye is unknown. [domain-2.4] */
export const ASSUMED_SCALE_STOPS = 4.45;

/**
 * Which times follow from what is known already? From nothing: seven steps one stop apart from 30 s. From a maker's
 * time: one stop apart, reaching further to the short side, wider still for another light or an overcast sky. From an
 * earlier curve: `planFromCurve` in advice/.
 *
 * @param start what is known.
 * @param light what you print under.
 * @throws AnalysisError `plan-invalid`.
 * @see [domain-6.1], [domain-6.2]
 */
export function wantedSeries(start: PlanStart, light: LightKind): WantedSeries {
  switch (start.kind) {
    case 'equal-stop': {
      const seconds = equalStopSeries(start.firstSeconds, start.stopsPerStep, start.count);
      return plain(seconds, `Steps ${formatStops(start.stopsPerStep)} apart from ${roughClock(seconds[0])}.`);
    }
    case 'equal-time': {
      const seconds = equalTimeSeries(start.firstSeconds, start.addedSeconds, start.count);
      return plain(seconds, `Steps ${roughClock(start.addedSeconds)} apart from ${roughClock(seconds[0])}.`);
    }
    case 'around': {
      const stops = start.stopsPerStep ?? 1 / 2;
      const seconds = aroundSeries(start.guessSeconds, stops, start.count ?? 5);
      return plain(seconds, `Steps ${formatStops(stops)} apart around ${roughClock(start.guessSeconds)}.`);
    }
    case 'maker':
      return fromMaker(start, light);
    case 'times': {
      const seconds = listedTimes(start.seconds);
      return plain(
        seconds,
        `${seconds.length} steps as listed, from ${roughClock(seconds[0])} to ${roughClock(seconds[seconds.length - 1])}.`,
      );
    }
    case 'nothing': {
      const seconds = equalStopSeries(start.firstSeconds ?? 30, 1, start.count ?? 7);
      const reason = `Nothing known yet: a wide strip, one stop apart, from ${roughClock(seconds[0])} to ${roughClock(seconds[seconds.length - 1])}.`;
      return { ...plain(seconds, reason), first: true };
    }
  }
}

/** Wanted times are no settings yet: whole seconds say enough. */
export function roughClock(seconds: number): string {
  return formatClock(seconds < 10 ? seconds : Math.round(seconds));
}

function plain(seconds: readonly number[], reason: string): WantedSeries {
  return { seconds, reason, warnings: [], first: false };
}

function fromMaker(start: Extract<PlanStart, { kind: 'maker' }>, light: LightKind): WantedSeries {
  if (!(Number.isFinite(start.seconds) && start.seconds > 0)) {
    throw new AnalysisError(
      'plan-invalid',
      `The maker's time is ${start.seconds} s. Give a time above 0 s.`,
      { phrase: phrase('plan-time-unfit', { of: 'maker', seconds: start.seconds }) },
    );
  }
  const underSun = light === 'sun' && start.madeFor === 'sun';
  if (start.sky !== undefined && light !== 'sun') {
    throw new AnalysisError(
      'plan-invalid',
      'A sky changes nothing under a lamp. Leave the sky out, or choose the sun.',
      { phrase: phrase('plan-sky-under-lamp', {}) },
    );
  }
  const sky = underSun ? skyFactor(start.madeForSky ?? 'clear', start.sky ?? 'clear') : null;
  const sameLight = start.madeFor === light && light !== 'other';
  const wide = !sameLight || (sky !== null && sky.high / sky.low > 2);
  const guess = start.seconds * (sky?.timeFactor ?? 1);
  const stops = start.stopsPerStep ?? 1;
  const count = start.count ?? (wide ? 7 : 6);
  // Makers name a time for a deep colour, so with their light the curve lies on the short side of it.
  const above = Math.min(sameLight ? 2 : 3, Math.floor((count - 1) / 2));
  const below = count - 1 - above;
  const seconds = equalStopSeries(guess * 2 ** (-below * stops), stops, count);
  const warnings: Warning[] = [];
  if (!sameLight) {
    warnings.push({
      code: 'other-light',
      message: `The maker's time is for ${LIGHT_NAMES[start.madeFor]}, you print under ${LIGHT_NAMES[light]}: the factor between two lights holds for one dye only and is not known. If the strip stays blank, check the light source first.`,
      phrase: phrase('plan-other-light', { madeFor: start.madeFor, light }),
    });
  }
  if (sky !== null && sky.high / sky.low > 2) {
    warnings.push({
      code: 'sky-uncertain',
      message: `Under such a sky the time may be ${sky.low.toFixed(1)} to ${sky.high.toFixed(1)} times the maker's; the strip is made wide for it.`,
      phrase: phrase('plan-sky-uncertain', { low: sky.low, high: sky.high }),
    });
  }
  const factor = sky && sky.timeFactor !== 1 ? `, times ${sky.timeFactor.toFixed(2)} for the sky` : '';
  return {
    seconds,
    reason: `From the maker's ${roughClock(start.seconds)}${factor}: ${formatStops(stops)} apart from ${roughClock(seconds[0])} to ${roughClock(seconds[count - 1])}.`,
    warnings,
    first: true,
  };
}

const LIGHT_NAMES: Readonly<Record<LightKind, string>> = {
  tubes: 'ultraviolet tubes',
  led: 'ultraviolet LEDs',
  sun: 'the sun',
  other: 'another light',
};
