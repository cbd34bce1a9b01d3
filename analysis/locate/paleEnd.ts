import type { Profile } from './changePoints.ts';
import { medianOf } from './sampleTone.ts';

/** Steps cut from a profile, by their borders in samples, rising along it; `darker` as in a rhythm. */
export interface CutSteps {
  readonly borders: readonly number[];
  readonly darker: 1 | -1;
}

/** What the pale end of a strip that begins with an unexposed step says of the number of steps. */
export interface PaleEnd {
  /** ln odds against there being one step fewer, and one more; 0 where it says nothing, never above. */
  readonly fewer: number;
  readonly more: number;
}

const TONE_SHARES = [1, 0.5, 0.35];
/** By less than this no border between two tones can be told, per plane, ln. */
const LEAST_CHANGE = [0.02, 0.015, 0.02];
/** A change along the dye that counts as none, ln. */
const NO_CHANGE = 0.012;
/** Beside a border this much is ramp, and this much is looked at, in steps. */
const RAMP = 0.12;
const REACH = 0.5;
/** Bare cloth shorter than this beyond the first step tells nothing, in steps. */
const LEAST_MARGIN = 0.35;
/** Changes up to so many least ones are seen beside steps that are bare. */
const USUAL_CHANGES = 1.2;
/** Depth rises at most with this power of the exposure, where an inhibitor has to be used up first. */
const STEEPEST = 2.2;
const PER_EXCESS = 1.5;
const MOST_ODDS = 6;

/**
 * Do the palest steps look as an unexposed one and the next should? Bare cloth beyond an unexposed step is no paler than
 * it: if it is, a step was left out. And where the next step shows no dye at all, the one after can't be deep:
 * if it is, bare cloth was taken for a step.
 *
 * @param seconds exposure of each step, rising; the first one 0.
 * @param marginSamples how far cloth goes on beyond the palest step.
 */
export function paleEnd(
  profile: Profile,
  steps: CutSteps,
  seconds: readonly number[],
  marginSamples: number,
): PaleEnd {
  const { borders, darker } = steps;
  const count = borders.length - 1;
  if (seconds[0] !== 0 || count < 3) return { fewer: 0, more: 0 };
  const pitch = (borders[count] - borders[0]) / count;
  const [palest, deepest] = darker === 1 ? [0, count - 1] : [count - 1, 0];
  const run = profile.planes.map((_, p) => {
    const at = (k: number): number => stretch(profile, p, borders[k], borders[k + 1], 0.2 * pitch);
    return TONE_SHARES[p] * (at(deepest) - at(palest));
  });
  const length = Math.hypot(...run);
  if (!(length > 0)) return { fewer: 0, more: 0 };
  const alongDye = (change: readonly number[]): number =>
    change.reduce((sum, v, p) => sum + TONE_SHARES[p] * v * run[p], 0) / length;
  const fromPale = darker === 1 ? borders : [...borders].reverse();
  const across = (k: number, outside: number): number[] =>
    profile.planes.map((_, p) => changeAt(profile, p, fromPale[k], darker, pitch, outside));

  let more = 0;
  if (marginSamples >= LEAST_MARGIN * pitch) {
    const change = across(0, Math.min(REACH * pitch, marginSamples - 0.1 * pitch));
    const fall = profile.maxSlope * (RAMP + REACH) * pitch;
    const seen = Math.hypot(
      ...change.map((v, p) => Math.max(0, Math.abs(v) - (p === 0 ? fall : 0)) / LEAST_CHANGE[p]),
    );
    if (alongDye(change) > 0) more = excess(seen - USUAL_CHANGES);
  }
  const [first, second] = [alongDye(across(1, REACH * pitch)), alongDye(across(2, REACH * pitch))];
  const power =
    Math.log(Math.max(NO_CHANGE, first + second) / Math.max(NO_CHANGE, first)) /
    Math.log(seconds[2] / seconds[1]);
  return { fewer: -excess(power - STEEPEST), more: -more };
}

/** 0 up to nothing; NaN, which stands for nothing seen, counts as nothing. */
function excess(over: number): number {
  return over > 0 ? Math.min(MOST_ODDS, PER_EXCESS * over) : 0;
}

/** How much one plane changes from just before a border to just after it, along the way in which steps get darker. */
function changeAt(
  profile: Profile,
  plane: number,
  border: number,
  way: 1 | -1,
  pitch: number,
  before: number,
): number {
  const beside = (from: number, to: number): number =>
    way === 1
      ? stretch(profile, plane, border + from, border + to, 0)
      : stretch(profile, plane, border - to, border - from, 0);
  return beside(RAMP * pitch, REACH * pitch) - beside(-before, -RAMP * pitch);
}

/** Median of one plane between two places, so much left out at either; NaN where that is less than two samples. */
function stretch({ planes }: Profile, plane: number, from: number, to: number, inset: number): number {
  const values = planes[plane].subarray(
    Math.max(0, Math.round(from + inset)),
    Math.max(0, Math.round(to - inset)),
  );
  return values.length < 2 ? Number.NaN : medianOf([...values]);
}
