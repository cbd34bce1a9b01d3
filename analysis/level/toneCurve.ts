import { dotAt, factorise, solveBy } from './cholesky.ts';

/** One card patch as photographed. */
export interface ToneSample {
  readonly name: string;
  /** Known luminous reflectance times the light there relative to the anchor, per channel. */
  readonly light: readonly [number, number, number];
  /** ln of the recorded linear device light, per channel. */
  readonly recordedLog: readonly [number, number, number];
  /** Relative standard uncertainty of the known value, common to the three channels. */
  readonly knownU: number;
  /** Relative standard error of the recorded light. */
  readonly recordedU: number;
}

/** ln of scene light (perfect white at the anchor = 0) at recorded values, with the covariance of its errors. */
export interface ToneAnswer {
  readonly logs: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** The part of the covariance that stems from the card's own uncertainty. */
  readonly cardCovariance: readonly (readonly number[])[];
  /** How each card patch's error of light enters each value: values × patches. */
  readonly lightWeights: readonly (readonly number[])[];
}

/** A recorded value: ln linear device light in one channel. */
export interface Recorded {
  readonly log: number;
  readonly channel: 0 | 1 | 2;
}

/** The camera's tone, turned round: recorded light -> scene light plus flare, for one assumed flare. */
export interface ToneCurve {
  readonly flare: number;
  /** ln of how well this flare explains the card, prior included. */
  readonly logEvidence: number;
  /** ln of scene light plus flare, means only. */
  readonly logAt: (log: number, channel: 0 | 1 | 2) => number;
  readonly logsAt: (values: readonly Recorded[]) => number[];
  readonly read: (values: readonly Recorded[]) => ToneAnswer;
}

/**
 * What is believed of a camera's tone before the card is looked at: ln(scene) = s(ln recorded), where
 * s = level + slope·ln recorded + roll-off·ρ(ln recorded) + smooth bends.
 *
 * ρ is the inverse of a hyperbolic highlight roll-off. Five phone photos of a neutral row (docs/method.md §4) are
 * described by a slope of 0.75 with a roll-off of 0.75, a file without camera tone by 1 and 0: mean and spread are those
 * of two phones to one such file.
 */
export interface TonePrior {
  readonly slopeMean: number;
  readonly slopeSd: number;
  readonly rollOffMean: number;
  readonly rollOffSd: number;
  /** Correlation of slope and roll-off: cameras that roll off more also have more contrast. */
  readonly correlation: number;
  readonly bendSd: number;
  /** Length of the bends in ln units. */
  readonly bendLength: number;
  /** Mean of the exponential prior of flare, share of perfect white. */
  readonly flareMean: number;
  /** Spread of the channel gains' logarithm. */
  readonly gainSd: number;
  /** Spread between channels that no gain explains. */
  readonly channelSd: number;
}

export const TONE_PRIOR: TonePrior = {
  slopeMean: 0.84,
  slopeSd: 0.16,
  rollOffMean: 0.5,
  rollOffSd: 0.4,
  correlation: -0.8,
  bendSd: 0.15,
  bendLength: 2,
  flareMean: 0.01,
  gainSd: 0.5,
  channelSd: 0.01,
};

const LEVEL_SD = 5;
/** How far above the file's white the hyperbolic roll-off ends. */
const ROLL_OFF_CEILING = 1.3;

/** ρ: 0 in the shadows, growing towards the file's white. */
const rollOff = (log: number): number => -Math.log(1 - Math.exp(Math.min(log, 0)) / ROLL_OFF_CEILING);

/** Sum of the points' weighted bends at a value; outside any closure, whose compiled form would be lost with it. */
const bendAt = (log: number, pointLog: Float64Array, weight: Float64Array, perBend: number): number => {
  let sum = 0;
  for (let i = 0; i < pointLog.length; i++) {
    const away = pointLog[i] - log;
    sum += weight[i] * Math.exp(away * away * perBend);
  }
  return sum;
};

/**
 * What does the card say of the camera's tone, if flare is `flare`? A Gaussian-process regression in ln–ln: one
 * shape shared by the channels, a gain for each. With one patch only the level is known and the prior's spread
 * stays; with many the curve goes through them.
 *
 * @param samples at least one card patch. @param lightCovariance of ln light at the patches, patches × patches.
 */
export const fitToneCurve = (
  samples: readonly ToneSample[],
  flare: number,
  lightCovariance: readonly (readonly number[])[] | null = null,
  prior: TonePrior = TONE_PRIOR,
): ToneCurve => {
  const points = samples.flatMap((s, patch) =>
    ([0, 1, 2] as const).map((channel) => ({
      patch,
      channel,
      log: s.recordedLog[channel],
      known: Math.log(s.light[channel] + flare),
      knownSd: (s.knownU * s.light[channel]) / (s.light[channel] + flare),
      /** Share of the patch's light that is not flare: what an error of table light acts on. */
      litShare: s.light[channel] / (s.light[channel] + flare),
      recordedSd: s.recordedU,
    })),
  );
  const centre = points.reduce((sum, p) => sum + p.log, 0) / points.length;
  const crossed = prior.correlation * prior.slopeSd * prior.rollOffSd;
  const pointRoll = points.map((p) => rollOff(p.log));
  /** `rollA`, `rollB`: the values' own roll-offs, which many calls share. */
  const kernelOf = (a: Recorded, rollA: number, b: Recorded, rollB: number): number => {
    const bend = Math.exp(-((a.log - b.log) ** 2) / (2 * prior.bendLength ** 2));
    return (
      LEVEL_SD ** 2 +
      prior.slopeSd ** 2 * (a.log - centre) * (b.log - centre) +
      prior.rollOffSd ** 2 * rollA * rollB +
      crossed * ((a.log - centre) * rollB + (b.log - centre) * rollA) +
      prior.bendSd ** 2 * bend +
      (a.channel === b.channel && a.channel !== 1 ? prior.gainSd ** 2 : 0)
    );
  };
  const n = points.length;
  const believed = (log: number): number => prior.slopeMean * log + prior.rollOffMean * rollOff(log);
  const residual = points.map((p) => p.known - believed(p.log));
  const k = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let v = kernelOf(points[i], pointRoll[i], points[j], pointRoll[j]);
      if (points[i].patch === points[j].patch) v += points[i].knownSd * points[j].knownSd;
      if (lightCovariance)
        v += points[i].litShare * points[j].litShare * lightCovariance[points[i].patch][points[j].patch];
      if (i === j) v += points[i].recordedSd ** 2 + prior.channelSd ** 2;
      k[i * n + j] = v;
    }
  const full = factorise(k, n);
  const weights = solveBy(full, Float64Array.from(residual));
  const quadratic = residual.reduce((s, r, i) => s + r * weights[i], 0);
  const sumOf = (of: (i: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += weights[i] * of(i);
    return sum;
  };
  // The kernel's parts but the bend are products of a part of the point and a part of the value: summed once.
  const constant = LEVEL_SD ** 2 * sumOf(() => 1);
  const ofLog = sumOf((i) => prior.slopeSd ** 2 * (points[i].log - centre) + crossed * pointRoll[i]);
  const ofRoll = sumOf((i) => prior.rollOffSd ** 2 * pointRoll[i] + crossed * (points[i].log - centre));
  const gainOf = [0, 1, 2].map((channel) =>
    channel === 1 ? 0 : prior.gainSd ** 2 * sumOf((i) => (points[i].channel === channel ? 1 : 0)),
  );
  const pointLog = Float64Array.from(points, (p) => p.log);
  const bendWeight = Float64Array.from(weights, (w) => w * prior.bendSd ** 2);
  const perBend = -1 / (2 * prior.bendLength ** 2);
  const logAt = (log: number, channel: 0 | 1 | 2): number => {
    const roll = rollOff(log);
    let sum = prior.slopeMean * log + prior.rollOffMean * roll;
    sum += constant + ofLog * (log - centre) + ofRoll * roll + gainOf[channel];
    sum += bendAt(log, pointLog, bendWeight, perBend);
    return sum;
  };
  const logsAt = (values: readonly Recorded[]): number[] => values.map((v) => logAt(v.log, v.channel));
  return {
    flare,
    logAt,
    logsAt,
    logEvidence: -0.5 * quadratic - 0.5 * full.logDeterminant - flare / prior.flareMean,
    read: (values) => {
      const count = values.length;
      const rolls = values.map((v) => rollOff(v.log));
      const cross = values.map((value, j) =>
        Float64Array.from(points, (point, i) => kernelOf(point, pointRoll[i], value, rolls[j])),
      );
      const gain = cross.map((column) => solveBy(full, column));
      // What the card's own uncertainty adds: its noise, one for each patch, carried through the regression's weights.
      const perPatch = gain.map((column) => {
        const sums = new Float64Array(samples.length);
        for (let i = 0; i < n; i++) sums[points[i].patch] += column[i] * points[i].knownSd;
        return sums;
      });
      const symmetric = (of: (a: number, b: number) => number): number[][] => {
        const rows = values.map(() => new Array<number>(count).fill(0));
        for (let a = 0; a < count; a++)
          for (let b = 0; b <= a; b++) {
            rows[a][b] = of(a, b);
            rows[b][a] = rows[a][b];
          }
        return rows;
      };
      return {
        logs: logsAt(values),
        covariance: symmetric(
          (a, b) => kernelOf(values[a], rolls[a], values[b], rolls[b]) - dotAt(cross[a], 0, gain[b], 0, n),
        ),
        cardCovariance: symmetric((a, b) => dotAt(perPatch[a], 0, perPatch[b], 0, samples.length)),
        lightWeights: gain.map((column) => {
          const perPatch = samples.map(() => 0);
          for (let i = 0; i < n; i++) perPatch[points[i].patch] += column[i] * points[i].litShare;
          return perPatch;
        }),
      };
    },
  };
};
