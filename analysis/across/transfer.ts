import { probit } from 'simple-statistics';
import type { CurveShape } from '../curve/curve.ts';
import { depthPercent, exposureFor } from '../curve/evaluate.ts';
import { shapeSlopePerStop } from '../curve/landmarks.ts';
import { shapeExposure } from '../curve/shape.ts';
import { AnalysisError, type Warning } from '../errors.ts';
import { type Phrase, phrase } from '../phrases.ts';
import { type Figure, figureOf } from './interval.ts';
import type { RecordedCurve } from './recorded.ts';

/** A scrap of the recorded dye and cloth, exposed under the new light, batch or season, and read. */
export interface ControlScrap {
  readonly seconds: number;
  readonly L: number;
  /** One standard uncertainty of L*, what differs from photo to photo included. */
  readonly uL: number;
}

export interface ScrapShift {
  readonly seconds: number;
  readonly L: number;
  readonly depthPercent: number;
  /** Why this scrap says nothing; null where it counts. */
  readonly unusable: 'too-pale' | 'too-deep' | null;
  /** Shift by this scrap alone, and its standard uncertainty from its own reading. */
  readonly shiftStops: number | null;
  readonly uStops: number | null;
}

export type Transfer =
  | {
      readonly kind: 'not-determined';
      readonly scraps: readonly ScrapShift[];
      /** What to do instead, in a sentence. */
      readonly sentence: string;
      readonly phrase?: Phrase;
    }
  | {
      readonly kind: 'transferred';
      readonly scraps: readonly ScrapShift[];
      /** log2 of the new light over the old, with a 90 % interval: positive where the new light works faster. */
      readonly shiftStops: Figure;
      readonly shiftLog10: number;
      /** Multiply recorded times by this. */
      readonly timeFactor: Figure;
      readonly warnings: readonly Warning[];
      readonly sentence: string;
      readonly phrase?: Phrase;
    };

/** Depths between which a scrap's lightness tells its exposure. Common practice, no source. */
const PALEST_PERCENT = 10;
const DEEPEST_PERCENT = 90;
/** Readings that every drawn curve stands for, at evenly likely places of the normal distribution. */
const READINGS = 30;
const NORMAL_PLACES = Array.from({ length: READINGS }, (_, i) => probit((i + 0.5) / READINGS));

/**
 * By what factor do my times change under this light? One or two scraps of the recorded dye and cloth are exposed and
 * read; each L* goes back through the recorded curve to the exposure that would have given it, and the ratio is the shift
 * in log exposure. Several scraps are weighted by how well each tells its exposure. Holds where only the speed changed;
 * scraps that disagree say that it is more than that.
 *
 * @param recorded the earlier curve and its bootstrap set.
 * @param scraps exposed scraps; seconds above 0, uL above 0.
 * @returns the shift with a 90 % interval from reading and curve; or why the scraps can't tell it.
 * @throws AnalysisError `comparison-invalid` without scraps or with numbers out of range.
 * @see method.md §9, [domain-1.12], [domain-2.9]
 * @example transferByControl({ curve, set }, [{ seconds: 60, L: 59, uL: 0.5 }]).shiftStops.value // 1
 */
export function transferByControl(recorded: RecordedCurve, scraps: readonly ControlScrap[]): Transfer {
  check(scraps);
  const shifts = scraps.map((scrap) => shiftOf(recorded, scrap));
  const draws = shiftDraws(recorded, scraps, shifts);
  if (draws === null) return { kind: 'not-determined', scraps: shifts, ...adviceWhenOff(shifts) };
  const shiftStops = figureOf(draws.value, draws.perShape.flat());
  const timeFactor = {
    value: 2 ** -draws.value,
    low: shiftStops.high === null ? null : 2 ** -shiftStops.high,
    high: shiftStops.low === null ? null : 2 ** -shiftStops.low,
  };
  const warnings = transferWarnings(shifts, draws.value);
  return {
    kind: 'transferred',
    scraps: shifts,
    shiftStops,
    shiftLog10: draws.value * Math.log10(2),
    timeFactor,
    warnings,
    sentence: sentenceOf(shiftStops, timeFactor),
    phrase: phrase('transferred', { shift: shiftStops, factor: timeFactor }),
  };
}

export type RestatedTime =
  | { readonly kind: 'restated'; readonly seconds: Figure }
  | {
      readonly kind: 'not-determined' | 'unattainable';
      readonly sentence: string;
      readonly phrase?: Phrase;
    };

/**
 * How long for this lightness under the new light? The recorded curve's time, restated by the scraps. Curve errors that
 * move both the time and the shift cancel where the scrap is near the target, which is why the interval is drawn anew
 * and not put together from two.
 *
 * @param targetL L* above 0 and below 100.
 * @throws AnalysisError `comparison-invalid`.
 * @see method.md §9
 * @example restateTime({ curve, set }, [{ seconds: 60, L: 59, uL: 0.5 }], 59).seconds.value // 60
 */
export function restateTime(
  recorded: RecordedCurve,
  scraps: readonly ControlScrap[],
  targetL: number,
): RestatedTime {
  check(scraps);
  if (!(targetL > 0 && targetL < 100)) {
    throw new AnalysisError(
      'comparison-invalid',
      `L* ${targetL} can't be aimed at. Give an L* between 0 and 100.`,
      { phrase: phrase('aim-beyond', { L: targetL }) },
    );
  }
  const shifts = scraps.map((scrap) => shiftOf(recorded, scrap));
  const draws = shiftDraws(recorded, scraps, shifts);
  if (draws === null) return { kind: 'not-determined', ...adviceWhenOff(shifts) };
  const { curve, set } = recorded;
  const seconds = exposureFor(curve, targetL);
  if (seconds === null || seconds <= 0 || seconds > 2 * curve.longestSeconds) {
    return {
      kind: 'unattainable',
      sentence: `The recorded strip does not vouch for L* ${targetL.toFixed(1)}: it runs from ${curve.baseL.toFixed(1)} to ${curve.deepestL.toFixed(1)} and to one stop past its longest step. Choose another target or make a new strip.`,
      phrase: phrase('not-vouched', { L: targetL, baseL: curve.baseL, deepestL: curve.deepestL }),
    };
  }
  const restated = draws.perShape.flatMap((perShape, i) => {
    const drawn = shapeExposure(set.shapes[i], targetL);
    return perShape.map((shift) => (drawn === null || shift === null ? null : drawn / 2 ** shift));
  });
  return { kind: 'restated', seconds: figureOf(seconds / 2 ** draws.value, restated) };
}

function check(scraps: readonly ControlScrap[]): void {
  const usable = (scrap: ControlScrap) =>
    scrap.seconds > 0 && scrap.uL > 0 && [scrap.seconds, scrap.L, scrap.uL].every(Number.isFinite);
  if (scraps.length === 0 || !scraps.every(usable)) {
    throw new AnalysisError(
      'comparison-invalid',
      'Give at least one exposed control scrap, with seconds and uncertainty above 0.',
      { phrase: phrase('scraps-missing', {}) },
    );
  }
}

function shiftOf(recorded: RecordedCurve, scrap: ControlScrap): ScrapShift {
  const { curve } = recorded;
  const { seconds, L } = scrap;
  const depth = depthPercent(curve, L);
  const unusable = depth < PALEST_PERCENT ? 'too-pale' : depth > DEEPEST_PERCENT ? 'too-deep' : null;
  const equal = unusable === null ? exposureFor(curve, L) : null;
  const slope = equal === null ? 0 : shapeSlopePerStop(curve.shape, equal);
  const told = equal !== null && equal > 0 && slope > 0;
  return {
    seconds,
    L,
    depthPercent: depth,
    unusable: told ? null : (unusable ?? 'too-deep'),
    shiftStops: told ? Math.log2(equal / seconds) : null,
    uStops: told ? scrap.uL / slope : null,
  };
}

interface ShiftDraws {
  readonly value: number;
  /** For every shape of the set, shifts for evenly likely readings; null where that shape cannot give one. */
  readonly perShape: readonly (readonly (number | null)[])[];
}

function shiftDraws(
  recorded: RecordedCurve,
  scraps: readonly ControlScrap[],
  shifts: readonly ScrapShift[],
): ShiftDraws | null {
  const told = shifts.flatMap(({ shiftStops, uStops }, i) =>
    shiftStops === null || uStops === null ? [] : [{ scrap: scraps[i], shiftStops, weight: 1 / uStops ** 2 }],
  );
  if (told.length === 0) return null;
  const total = told.reduce((sum, one) => sum + one.weight, 0);
  const value = told.reduce((sum, one) => sum + one.weight * one.shiftStops, 0) / total;
  const uReading = 1 / Math.sqrt(total);
  const perShape = recorded.set.shapes.map((shape) => {
    const middle = weightedShift(shape, told, total);
    return NORMAL_PLACES.map((z) => (middle === null ? null : middle + z * uReading));
  });
  return { value, perShape };
}

function weightedShift(
  shape: CurveShape,
  told: readonly { readonly scrap: ControlScrap; readonly weight: number }[],
  total: number,
): number | null {
  let sum = 0;
  for (const { scrap, weight } of told) {
    const equal = shapeExposure(shape, scrap.L);
    if (equal === null || equal <= 0) return null;
    sum += weight * Math.log2(equal / scrap.seconds);
  }
  return sum / total;
}

const INSTEAD = {
  quarter: 'Expose a scrap for a quarter of the time.',
  fourfold: 'Expose a scrap for four times as long; if it stays blank, check the light source first.',
  between: 'Expose one for a time between these.',
} as const;

function adviceWhenOff(shifts: readonly ScrapShift[]): {
  readonly sentence: string;
  readonly phrase: Phrase;
} {
  const deep = shifts.filter((shift) => shift.unusable === 'too-deep').length;
  const depths = shifts.map((shift) => `${shift.depthPercent.toFixed(0)} %`).join(', ');
  const instead = deep === shifts.length ? 'quarter' : deep === 0 ? 'fourfold' : 'between';
  return {
    sentence: `The control scrap must lie between ${PALEST_PERCENT} and ${DEEPEST_PERCENT} % depth to tell its exposure; read: ${depths}. ${INSTEAD[instead]}`,
    phrase: phrase('scraps-off', {
      palest: PALEST_PERCENT,
      deepest: DEEPEST_PERCENT,
      depths: shifts.map((shift) => shift.depthPercent),
      instead,
    }),
  };
}

function transferWarnings(shifts: readonly ScrapShift[], value: number): Warning[] {
  const warnings: Warning[] = [];
  const told = shifts.filter((shift) => shift.shiftStops !== null);
  const [first, last] = [told[0], told[told.length - 1]];
  const apart = Math.abs((last.shiftStops ?? 0) - (first.shiftStops ?? 0));
  if (told.length > 1 && apart > 2 * Math.hypot(first.uStops ?? 0, last.uStops ?? 0)) {
    warnings.push({
      code: 'scraps-disagree',
      message: `The scraps at ${first.seconds} s and ${last.seconds} s give shifts ${apart.toFixed(2)} stops apart, more than their reading explains: the contrast changed, not only the speed. Make a new strip.`,
      phrase: phrase('scraps-disagree', { first: first.seconds, last: last.seconds, apart }),
    });
  }
  if (told.length < shifts.length) {
    warnings.push({
      code: 'scrap-left-out',
      message: `${shifts.length - told.length} scrap(s) outside ${PALEST_PERCENT} to ${DEEPEST_PERCENT} % depth say nothing and are left out.`,
      phrase: phrase('scraps-left-out', {
        count: shifts.length - told.length,
        palest: PALEST_PERCENT,
        deepest: DEEPEST_PERCENT,
      }),
    });
  }
  if (Math.abs(value) > 1) {
    warnings.push({
      code: 'large-shift',
      message:
        'More than one stop: exposure may not be light times time over such a factor (reciprocity). Check the restated time on a scrap.',
      phrase: phrase('large-shift', {}),
    });
  }
  return warnings;
}

function sentenceOf(shift: Figure, factor: Figure): string {
  const stops = shift.value ?? 0;
  const open = (value: number | null) => value?.toFixed(2) ?? 'open';
  return `The new light works ${Math.abs(stops).toFixed(2)} stop ${stops < 0 ? 'slower' : 'faster'} (90 %: ${open(shift.low)} to ${open(shift.high)}): multiply times by ${open(factor.value)} (${open(factor.low)} to ${open(factor.high)}).`;
}
