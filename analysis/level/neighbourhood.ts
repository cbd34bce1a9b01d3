import type { BrightnessMap } from '../tiles/brightnessMap.ts';

/** ln brightness of a place's neighbourhood, by reach, less the photo's mean. */
export type Neighbourhood = (x: number, y: number) => readonly number[];

/** Reaches of the neighbourhoods looked at: standard deviations in half diagonals of the photo. */
export const REACHES = [0.08, 0.22] as const;

const smoothedAlong = (
  source: readonly number[],
  count: number,
  step: number,
  lines: number,
  lineStep: number,
  sigma: number,
): number[] => {
  const reach = Math.min(count, Math.ceil(2.5 * sigma));
  const weights = Array.from({ length: reach + 1 }, (_, k) => Math.exp(-0.5 * (k / sigma) ** 2));
  const result = new Array<number>(source.length);
  for (let line = 0; line < lines; line++)
    for (let i = 0; i < count; i++) {
      let [sum, total] = [0, 0];
      for (let k = Math.max(0, i - reach); k <= Math.min(count - 1, i + reach); k++) {
        const w = weights[Math.abs(k - i)];
        sum += w * source[line * lineStep + k * step];
        total += w;
      }
      result[line * lineStep + i * step] = sum / total;
    }
  return result;
};

/**
 * How bright are the surroundings of a place? Phones lighten the dark parts of a picture and darken the bright ones,
 * each by the mean of its neighbourhood; how far that reaches differs, so there are a near and a wide one.
 *
 * @returns a function of pixel place; its numbers are ln units about the photo's mean.
 */
export const neighbourhood = (map: BrightnessMap): Neighbourhood => {
  const { cellPx, columns, rows, logs } = map;
  const half = Math.hypot(columns, rows) / 2;
  const mean = logs.reduce((s, v) => s + v, 0) / logs.length;
  const centred = logs.map((v) => v - mean);
  const smooth = REACHES.map((reach) => {
    const across = smoothedAlong(centred, columns, 1, rows, columns, reach * half);
    return smoothedAlong(across, rows, columns, columns, 1, reach * half);
  });
  return (x, y) => {
    const u = Math.min(columns - 1, Math.max(0, x / cellPx - 0.5));
    const v = Math.min(rows - 1, Math.max(0, y / cellPx - 0.5));
    const column = Math.min(Math.max(0, columns - 2), Math.floor(u));
    const row = Math.min(Math.max(0, rows - 2), Math.floor(v));
    const [wu, wv] = [u - column, v - row];
    const right = columns > 1 ? 1 : 0;
    const below = rows > 1 ? columns : 0;
    const at = row * columns + column;
    return smooth.map(
      (s) =>
        (1 - wv) * ((1 - wu) * s[at] + wu * s[at + right]) +
        wv * ((1 - wu) * s[at + below] + wu * s[at + below + right]),
    );
  };
};
