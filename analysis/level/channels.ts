import { factorise, solveBy } from './cholesky.ts';

/** A number for red, green and blue each. */
export type Channels = readonly [number, number, number];

/**
 * How the noise of a surface divides among the channels: the inverse of its covariance between them, row by row, scaled
 * so that the best estimate of brightness from the three has the variance 1.
 */
export type ChannelNoise = readonly [Channels, Channels, Channels];

/** What all channels share: light and shade. */
export const BRIGHTNESS: Channels = [1, 1, 1];

/** Ways in which light can differ in colour from place to place: warmer or cooler, greener or more purple. */
export const TINTS: readonly [Channels, Channels] = [
  [Math.SQRT1_2, 0, -Math.SQRT1_2],
  [1 / Math.sqrt(6), -2 / Math.sqrt(6), 1 / Math.sqrt(6)],
];

/** Spread of residuals that rounding and the camera's noise leave in every channel by itself, ln light. */
const OWN_SD = 0.004;

/** a·Q·b. */
export const between = (a: Channels, q: ChannelNoise, b: Channels): number => {
  let sum = 0;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) sum += a[i] * q[i][j] * b[j];
  return sum;
};

/** Three channels, each times its weight. */
export const weighed = (weights: Channels, values: Channels): number =>
  weights[0] * values[0] + weights[1] * values[1] + weights[2] * values[2];

/** Weights by which the three channels are best averaged to the light's brightness; they add up to 1. */
export const brightnessWeights = (q: ChannelNoise): Channels => [
  q[0][0] + q[0][1] + q[0][2],
  q[1][0] + q[1][1] + q[1][2],
  q[2][0] + q[2][1] + q[2][2],
];

const scaled = (inverse: readonly Channels[]): ChannelNoise => {
  const q = inverse as ChannelNoise;
  const total = between(BRIGHTNESS, q, BRIGHTNESS);
  const row = (i: 0 | 1 | 2): Channels => [q[i][0] / total, q[i][1] / total, q[i][2] / total];
  return [row(0), row(1), row(2)];
};

/** Variance of the colour of grey noise, when that of its brightness is 1. */
const GREY_TINT = 0.3;

/** Noise that is mostly light and shade: what a matt surface of one colour shows. */
export const GREY_NOISE: ChannelNoise = (() => {
  const entry = (i: number, j: number): number =>
    1 / 9 + (TINTS[0][i] * TINTS[0][j] + TINTS[1][i] * TINTS[1][j]) / GREY_TINT;
  const row = (i: number): Channels => [entry(i, 0), entry(i, 1), entry(i, 2)];
  return [row(0), row(1), row(2)];
})();

/**
 * How do a surface's light and dark places differ in colour? Dark grain is redder than the light wood between, threads of
 * a checked cloth have colours of their own; table light is nearly of one colour. Where the surface's places differ
 * otherwise than light does, a weighting of the channels shows the light and hardly the pattern.
 *
 * @param residuals ln light of the surface's cells less a smooth field, three channels each.
 */
export const channelNoise = (residuals: readonly Channels[]): ChannelNoise => {
  const n = residuals.length;
  const mean = [0, 1, 2].map((c) => residuals.reduce((s, r) => s + r[c], 0) / n);
  const covariance = new Float64Array(9);
  for (const r of residuals)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j <= i; j++) covariance[3 * i + j] += ((r[i] - mean[i]) * (r[j] - mean[j])) / n;
  for (let i = 0; i < 3; i++) covariance[4 * i] += OWN_SD ** 2;
  const factor = factorise(covariance, 3);
  const column = (c: number): Channels => {
    const [r, g, b] = solveBy(factor, Float64Array.of(+(c === 0), +(c === 1), +(c === 2)));
    return [r, g, b];
  };
  return scaled([column(0), column(1), column(2)]);
};
