import type { Rgb } from '../photo/photo.ts';

/** Recorded light from which a clipped channel counts as clipped at the bright end, and below which at the dark end. */
const BRIGHT = 0.8;
const DARK = 0.02;
/**
 * What clipped pixels may have lost at the bright end, as a share of the recorded light: where few are clipped, their
 * noise's upper part; where all are, anything up to about a stop.
 */
const FEW_LOST = 0.03;
const ALL_LOST = 0.3;
/** What a channel at zero may hide, as a share of white: a colour outside the file's range. */
const HIDDEN = 0.01;

/**
 * How far may a step's Y be off because part of its pixels ran out of the file's range? Such pixels only tell that the
 * light was at least, or at most, so much; the step then counts by as little as this uncertainty leaves it.
 *
 * @param recorded mean linear device light. @param reflectance of the step, same channels. @param weightsY of the
 *   channels in Y. @param clippedShare of its pixels, 0..1.
 * @returns one standard uncertainty of Y, 0 where nothing is clipped.
 */
export const clippedU = (recorded: Rgb, reflectance: Rgb, weightsY: Rgb, clippedShare: number): number => {
  let sum = 0;
  for (const c of [0, 1, 2] as const) {
    if (recorded[c] > BRIGHT)
      sum += weightsY[c] * Math.abs(reflectance[c]) * clippedShare * (FEW_LOST + ALL_LOST * clippedShare);
    else if (recorded[c] < DARK) sum += weightsY[c] * HIDDEN * clippedShare;
  }
  return sum;
};
