import type { Point, Quad } from '../../../analysis/locate/marks.ts';
import type { Colour, Patch } from './paintedField.ts';
import { rowOfBoxes, turnedBox } from './paintedField.ts';

/** A blue dye of this depth 0..1 on cloth of Y 0.62: red goes first, blue last. */
export function blue(depth: number): Colour {
  return [0.64 * Math.exp(-2.6 * depth), 0.62 * Math.exp(-1.7 * depth), 0.58 * Math.exp(-0.8 * depth)];
}

export interface PaintedStrip {
  readonly patches: readonly Patch[];
  readonly steps: readonly Quad[];
}

/** A strip of steps of these depths, 40 × 80 px each, about a middle, with a bare margin around it. */
export function stripOf(
  depths: readonly number[],
  middle: Point,
  degrees: number,
  marginPx: number,
): PaintedStrip {
  const steps = rowOfBoxes(middle, depths.length, 40, 40, 80, degrees);
  const cloth = turnedBox(middle, 40 * depths.length + 2 * marginPx, 80 + 2 * marginPx, degrees);
  return {
    steps,
    patches: [
      { quad: cloth, colour: blue(0) },
      ...steps.map((quad, i) => ({ quad, colour: blue(depths[i]) })),
    ],
  };
}
