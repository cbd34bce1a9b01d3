import { probit } from 'simple-statistics';
import { type DriftReport, readDrift } from '../../analysis/across/drift.ts';
import type { Figure } from '../../analysis/across/interval.ts';
import type { RecordedCurve } from '../../analysis/across/recorded.ts';
import { type ControlScrap, restateTime, transferByControl } from '../../analysis/across/transfer.ts';
import type { Target } from '../../analysis/advice/advice.ts';
import { interval90 } from '../../analysis/advice/interval.ts';
import { targetOnCurve, targetSeconds } from '../../analysis/advice/target.ts';
import { depthPercent, exposureFor } from '../../analysis/curve/evaluate.ts';
import type { Warning } from '../../analysis/errors.ts';
import { type Phrase, phrase } from '../../analysis/phrases.ts';
import { type Sky, skyFactor } from '../../analysis/plan/sky.ts';

/** A control scrap of the book, as far as times are moved by it. */
export interface BookControl {
  readonly id: string;
  readonly exposedAt: string;
  readonly scraps: readonly ControlScrap[];
  /** What it has in common with its series: another text starts a new baseline. */
  readonly setup: string;
  readonly lampHours: number | null;
  /** Against the calibration's curve, as worked out when it was kept. */
  readonly shiftStops: number | null;
}

/** What the calibration's times are moved by. */
export interface Moved {
  readonly by: 'nothing' | 'control' | 'controls' | 'sky';
  /** Light today over the light of the calibration, log2. */
  readonly shiftStops: Figure;
  /** One standard uncertainty of the shift, apart from the curve's own. */
  readonly uStops: number;
  readonly controls: readonly BookControl[];
  readonly drift: DriftReport | null;
  readonly warnings: readonly Warning[];
  readonly sentence: string;
  readonly phrase?: Phrase;
}

const NOTHING: Moved = {
  by: 'nothing',
  shiftStops: { value: 0, low: 0, high: 0 },
  uStops: 0,
  controls: [],
  drift: null,
  warnings: [],
  sentence: "The calibration's own time: no control scrap moves it.",
};

/** Half of a 90 % interval, in standard uncertainties. */
const HALF_90 = 1.6448536269514722;
/** Weight of the newest scrap in the moving average of `readDrift`. */
const WEIGHT = 0.2;

const signed = (stops: number): string => `${stops < 0 ? '−' : '+'}${Math.abs(stops).toFixed(2)}`;

/** By a chart of eight scraps or more: their mean while the light is steady, else the moving average. */
const byChart = (
  controls: readonly BookControl[],
  drift: Extract<DriftReport, { kind: 'chart' }>,
  lampHoursToday: number | null,
): Moved => {
  const present = controls.slice(drift.from);
  // A newest scrap that jumped is not believed until it is repeated.
  const counted = drift.verdict === 'jump' ? present.slice(0, -1) : present;
  const { individuals, ewma, verdict, fading } = drift;
  const drifting = verdict === 'drifting';
  const level = drifting ? ewma.averages[ewma.averages.length - 1] : individuals.mean;
  const u =
    individuals.sigma *
    (drifting ? Math.sqrt(WEIGHT / (2 - WEIGHT)) : 1 / Math.sqrt(individuals.baselineCount));
  const last = counted.at(-1);
  const hoursSince =
    lampHoursToday === null || last?.lampHours == null ? 0 : Math.max(0, lampHoursToday - last.lampHours);
  const rate = drifting && fading?.changing ? fading : null;
  const ahead = rate ? (rate.stopsPer100Hours * hoursSince) / 100 : 0;
  const uAhead = rate ? (((rate.high - rate.low) / 2 / HALF_90) * hoursSince) / 100 : 0;
  const shift = level + ahead;
  const uStops = Math.hypot(u, uAhead);
  return {
    by: 'controls',
    shiftStops: { value: shift, low: shift - HALF_90 * uStops, high: shift + HALF_90 * uStops },
    uStops,
    controls: counted,
    drift,
    warnings: [],
    sentence: [
      `Moved by ${signed(level)} stop, the ${drifting ? 'moving average' : 'mean'} of ${counted.length} control scraps.`,
      ahead === 0
        ? ''
        : `${signed(ahead)} stop more for ${hoursSince.toFixed(0)} lamp hours since the last of them.`,
      drift.sentence,
    ]
      .filter(Boolean)
      .join(' '),
  };
};

/**
 * What becomes of this calibration's times today? Eight control scraps of one setup or more are charted; of fewer, the
 * newest that tells its exposure counts.
 *
 * @param controls made since the calibration, oldest first.
 */
export const movedByControls = (
  recorded: RecordedCurve,
  controls: readonly BookControl[],
  lampHoursToday: number | null,
): Moved => {
  const told = controls.filter((control) => control.shiftStops !== null);
  const drift = readDrift(
    told.map(({ shiftStops, setup, lampHours }) => ({
      shiftStops: shiftStops ?? 0,
      setup,
      ...(lampHours === null ? {} : { lampHours }),
    })),
  );
  if (drift.kind === 'chart') return byChart(told, drift, lampHoursToday);
  const newest = told.at(-1);
  if (!newest) return NOTHING;
  const found = transferByControl(recorded, newest.scraps);
  if (found.kind !== 'transferred' || found.shiftStops.value === null) return NOTHING;
  const { value, low, high } = found.shiftStops;
  return {
    by: 'control',
    shiftStops: found.shiftStops,
    uStops: low === null || high === null ? 1 : (high - low) / 2 / HALF_90,
    controls: [newest],
    drift: null,
    warnings: found.warnings,
    sentence: `Moved by ${signed(value)} stop, as the newest control scrap says.`,
  };
};

/** What becomes of a time in the sun under another sky: a rough factor, for want of a control scrap. */
export const movedBySky = (madeFor: Sky | null, today: Sky | null): Moved => {
  if (madeFor === null || today === null || madeFor === today) return NOTHING;
  const { timeFactor, low, high } = skyFactor(madeFor, today);
  const stops = (factor: number) => -Math.log2(factor);
  return {
    ...NOTHING,
    by: 'sky',
    shiftStops: { value: stops(timeFactor), low: stops(high), high: stops(low) },
    uStops: Math.max(0.25, (stops(low) - stops(high)) / 2 / HALF_90),
    sentence: `Moved by ${signed(stops(timeFactor))} stop for a ${today} sky after a ${madeFor} one: a rough factor, since nothing was measured under this sky.`,
    phrase: phrase('sky-moved', { stops: stops(timeFactor), today, madeFor }),
  };
};

/** A time with its interval; or that there is none to give. */
export type MovedTime =
  | {
      readonly kind: 'time';
      readonly seconds: number;
      readonly low: number;
      readonly high: number;
      readonly highOpen: boolean;
      /** The longest time that the calibration vouches for: one stop past its longest step, under today's light. */
      readonly latest: number;
      /** The time lies between the calibration's steps. */
      readonly onStrip: boolean;
    }
  | { readonly kind: 'no-time' };

/** The longest and shortest time are this many times off the strip's ends. */
const ONE_STOP = 2;
/** Places of the normal distribution that a shift is drawn at, for every curve. */
const PLACES = Array.from({ length: 9 }, (_, i) => probit((i + 0.5) / 9));

const within = (seconds: number, { low, high }: { low: number; high: number }, latest: number) => ({
  low: Math.min(low, seconds),
  high: Math.min(latest, Math.max(high, seconds)),
  highOpen: high > latest,
});

/**
 * How long to this target under today's light? The recorded curve's time over the shift. The interval is drawn from the
 * curve's own uncertainty and the shift's; with a single control scrap the two are drawn together, since near the scrap
 * the curve's errors cancel.
 */
export const movedTime = (recorded: RecordedCurve, target: Target, moved: Moved): MovedTime => {
  const { curve, set } = recorded;
  const onCurve = targetOnCurve(curve, target);
  const own = targetSeconds(curve.shape, target, onCurve);
  const earliest = curve.baseSeen ? 0 : curve.shortestSeconds / ONE_STOP;
  if (
    !Number.isFinite(own) ||
    own <= 0 ||
    own < earliest ||
    own > ONE_STOP * curve.longestSeconds ||
    onCurve.L > curve.baseL
  )
    return { kind: 'no-time' };
  const factor = 2 ** -(moved.shiftStops.value ?? 0);
  const seconds = own * factor;
  const latest = ONE_STOP * curve.longestSeconds * factor;
  const onStrip = own >= (curve.baseSeen ? 0 : curve.shortestSeconds) && own <= curve.longestSeconds;
  const [control] = moved.controls;
  if (moved.by === 'control' && control && onCurve.L > 0 && onCurve.L < 100) {
    const restated = restateTime(recorded, control.scraps, onCurve.L);
    if (restated.kind === 'restated') {
      const { low, high } = restated.seconds;
      const interval = { low: low ?? seconds, high: high ?? Number.POSITIVE_INFINITY };
      return { kind: 'time', seconds, ...within(seconds, interval, latest), latest, onStrip };
    }
  }
  const times = set.shapes.map((shape) => targetSeconds(shape, target, onCurve));
  const drawn =
    moved.uStops === 0
      ? times.map((time) => time * factor)
      : times.flatMap((time) => PLACES.map((z) => time * factor * 2 ** (moved.uStops * z)));
  return { kind: 'time', seconds, ...within(seconds, interval90(drawn), latest), latest, onStrip };
};

/** Depths between which a print's lightness tells its exposure. Common practice, no source. */
const TELLING_PERCENT = { from: 10, to: 90 };

/**
 * By how many stops did a print come out deeper (positive) or paler than the curve says? Null where the L* that it
 * reached is too pale or too deep to tell.
 *
 * @param shiftStops what the light was taken to have moved by when the time was chosen.
 */
export const missedStops = (
  { curve }: RecordedCurve,
  reachedL: number,
  secondsUsed: number,
  shiftStops: number,
): number | null => {
  const depth = depthPercent(curve, reachedL);
  const equal = exposureFor(curve, reachedL);
  if (depth < TELLING_PERCENT.from || depth > TELLING_PERCENT.to || equal === null || equal <= 0) return null;
  return Math.log2(equal / secondsUsed) - shiftStops;
};
