import type { Rgb } from '../photo/photo.ts';

/** ln light of three channels. */
export type Logs = readonly [number, number, number];

/** Turns ln recorded light into ln scene light. */
export type ToSceneLogs = (recorded: Logs) => Logs;

/** Recorded light below which a file holds only rounding. */
const FLOOR = 1e-5;

/** ln of recorded light, held at the file's floor. */
export const logOfRgb = (rgb: Rgb): Logs => [
  Math.log(Math.max(rgb[0], FLOOR)),
  Math.log(Math.max(rgb[1], FLOOR)),
  Math.log(Math.max(rgb[2], FLOOR)),
];
