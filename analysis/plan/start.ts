import type { Curve } from '../curve/curve.ts';
import { exposureFor, lightnessOfDepth } from '../curve/evaluate.ts';
import { AnalysisError, type Warning } from '../errors.ts';
import { aroundSeries, equalStopSeries, equalTimeSeries } from './series.ts';
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
  /** An earlier curve of this dye on this cloth, and the depth wanted. */
  | {
      readonly kind: 'curve';
      readonly curve: Curve;
      readonly target: PlanTarget;
      /** By how many stops today's light works faster (+) or slower (−) than the curve's. */
      readonly shiftStops?: number;
      readonly stopsPerStep?: number;
      readonly count?: number;
    }
  /** Nothing: a wide first strip from `firstSeconds` (30 s) up. */
  | { readonly kind: 'nothing'; readonly firstSeconds?: number; readonly count?: number };

/** The depth that the strip should pin down. */
export type PlanTarget =
  | { readonly kind: 'L'; readonly L: number }
  | { readonly kind: 'depth'; readonly percent: number }
  | { readonly kind: 'full' };

/** The times wanted, before the timer rounds them, and why these. */
export interface WantedSeries {
  readonly seconds: readonly number[];
  /** A last step set apart from the series, to pin the deepest colour down. */
  readonly anchorSeconds: number | null;
  readonly guessSeconds: number | null;
  readonly reason: string;
  readonly warnings: readonly Warning[];
  /** True where the series has to find the curve rather than refine it. */
  readonly first: boolean;
}

/** Stops from 10 to 90 % depth of a first-order build-up, the assumption while the dye is unknown. [domain-2.4] */
export const ASSUMED_SCALE_STOPS = 4.45;

const USUAL_STOPS = [1 / 6, 1 / 4, 1 / 3, 1 / 2, 1] as const;

/**
 * Which times follow from what is known already? From nothing: seven steps one stop apart from 30 s. From a maker's
 * time: one stop apart, reaching further to the short side, wider still for another light or an overcast sky. From an
 * earlier curve: closely around the time for the target, with one more step where the dye is at its deepest.
 *
 * @param start what is known.
 * @param light what you print under.
 * @param separableStops the closest that two steps can be and still be told apart; keeps a curve's series from being
 *   finer than that.
 * @throws AnalysisError `plan-invalid`.
 * @see [domain-6.1], [domain-6.2], [domain-6.8]
 */
export function wantedSeries(start: PlanStart, light: LightKind, separableStops: number): WantedSeries {
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
      const reason = `Steps ${formatStops(stops)} apart around ${roughClock(start.guessSeconds)}.`;
      return { ...plain(seconds, reason), guessSeconds: start.guessSeconds };
    }
    case 'maker':
      return fromMaker(start, light);
    case 'curve':
      return fromCurve(start, separableStops);
    case 'nothing': {
      const seconds = equalStopSeries(start.firstSeconds ?? 30, 1, start.count ?? 7);
      const reason = `Nothing known yet: a wide strip, one stop apart, from ${roughClock(seconds[0])} to ${roughClock(seconds[seconds.length - 1])}.`;
      return { ...plain(seconds, reason), first: true };
    }
  }
}

/** Wanted times are no settings yet: whole seconds say enough. */
function roughClock(seconds: number): string {
  return formatClock(seconds < 10 ? seconds : Math.round(seconds));
}

function plain(seconds: readonly number[], reason: string): WantedSeries {
  return { seconds, anchorSeconds: null, guessSeconds: null, reason, warnings: [], first: false };
}

function fromMaker(start: Extract<PlanStart, { kind: 'maker' }>, light: LightKind): WantedSeries {
  if (!(Number.isFinite(start.seconds) && start.seconds > 0)) {
    throw new AnalysisError('plan-invalid', `The maker's time is ${start.seconds} s. Give a time above 0 s.`);
  }
  const underSun = light === 'sun' && start.madeFor === 'sun';
  if (start.sky !== undefined && light !== 'sun') {
    throw new AnalysisError(
      'plan-invalid',
      'A sky changes nothing under a lamp. Leave the sky out, or choose the sun.',
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
    });
  }
  if (sky !== null && sky.high / sky.low > 2) {
    warnings.push({
      code: 'sky-uncertain',
      message: `Under such a sky the time may be ${sky.low.toFixed(1)} to ${sky.high.toFixed(1)} times the maker's; the strip is made wide for it.`,
    });
  }
  const factor = sky && sky.timeFactor !== 1 ? `, times ${sky.timeFactor.toFixed(2)} for the sky` : '';
  return {
    seconds,
    anchorSeconds: null,
    guessSeconds: guess,
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

function fromCurve(start: Extract<PlanStart, { kind: 'curve' }>, separableStops: number): WantedSeries {
  const { curve } = start;
  const warnings: Warning[] = [];
  const shift = start.shiftStops ?? 0;
  if (!Number.isFinite(shift) || Math.abs(shift) > 10) {
    throw new AnalysisError('plan-invalid', `A shift of ${shift} stops is not usable. Give −10 to 10 stops.`);
  }
  const wanted = targetSeconds(curve, start.target);
  let onCurve = wanted;
  if (onCurve === null) {
    onCurve = curve.secondsToFull ?? curve.longestSeconds;
    warnings.push({
      code: 'target-unattainable',
      message: `This curve does not get to the target (deepest L* ${curve.deepestL.toFixed(1)}, base ${curve.baseL.toFixed(1)}). The strip is planned around full depth instead.`,
    });
  }
  const furthest = 2 * curve.longestSeconds;
  if (onCurve > furthest) {
    warnings.push({
      code: 'target-beyond-curve',
      message: `The curve puts the target at ${roughClock(onCurve)}, more than one stop past its longest step of ${roughClock(curve.longestSeconds)}. The strip is planned around ${roughClock(furthest)}; read it before going further.`,
    });
    onCurve = furthest;
  }
  const guess = onCurve / 2 ** shift;
  const stops = start.stopsPerStep ?? stopsForScale(curve.exposureScaleStops, separableStops);
  const seconds = aroundSeries(guess, stops, start.count ?? 5);
  const longest = seconds[seconds.length - 1];
  const full = curve.secondsToFull === null ? null : Math.min(curve.secondsToFull, furthest) / 2 ** shift;
  const anchor = full !== null && full > longest * 2 ** (stops / 2) ? full : null;
  const anchorText =
    anchor === null
      ? ''
      : ` One more at ${roughClock(anchor)} shows the deepest colour again, which the depth is measured from.`;
  return {
    seconds,
    anchorSeconds: anchor,
    guessSeconds: guess,
    reason: `Around ${roughClock(guess)}, where the earlier curve puts the target${shift === 0 ? '' : ` after a shift of ${formatStops(shift)}`}: ${formatStops(stops)} apart.${anchorText}`,
    warnings,
    first: false,
  };
}

function targetSeconds(curve: Curve, target: PlanTarget): number | null {
  if (target.kind === 'full') return curve.secondsToFull;
  if (target.kind === 'depth' && !(target.percent > 0 && target.percent < 100)) {
    throw new AnalysisError(
      'plan-invalid',
      `A depth of ${target.percent} % can't be aimed at. Give 1 to 99 %, or "full".`,
    );
  }
  if (target.kind === 'L' && !(target.L > 0 && target.L < 100)) {
    throw new AnalysisError(
      'plan-invalid',
      `L* ${target.L} can't be aimed at. Give an L* between 0 and 100.`,
    );
  }
  const seconds = exposureFor(
    curve,
    target.kind === 'L' ? target.L : lightnessOfDepth(curve, target.percent),
  );
  return seconds !== null && seconds > 0 ? seconds : null;
}

function stopsForScale(scaleStops: number | null, separableStops: number): number {
  const roomy =
    [...USUAL_STOPS].reverse().find((stops) => stops <= (scaleStops ?? ASSUMED_SCALE_STOPS) / 8) ??
    USUAL_STOPS[0];
  return Math.max(roomy, USUAL_STOPS.find((stops) => stops >= separableStops) ?? 1);
}
