import { CholeskyDecomposition, Matrix } from 'ml-matrix';

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
  slopeSd: 0.18,
  rollOffMean: 0.5,
  rollOffSd: 0.45,
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
  const kernel = (a: Recorded, b: Recorded): number => kernelOf(a, rollOff(a.log), b, rollOff(b.log));
  const n = points.length;
  const believed = (log: number): number => prior.slopeMean * log + prior.rollOffMean * rollOff(log);
  const residual = points.map((p) => p.known - believed(p.log));
  const k = new Matrix(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let v = kernelOf(points[i], pointRoll[i], points[j], pointRoll[j]);
      if (points[i].patch === points[j].patch) v += points[i].knownSd * points[j].knownSd;
      if (lightCovariance)
        v += points[i].litShare * points[j].litShare * lightCovariance[points[i].patch][points[j].patch];
      if (i === j) v += points[i].recordedSd ** 2 + prior.channelSd ** 2;
      k.set(i, j, v);
      k.set(j, i, v);
    }
  const full = new CholeskyDecomposition(k);
  const weights = full.solve(Matrix.columnVector(residual)).to1DArray();
  const lower = full.lowerTriangularMatrix;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) logDeterminant += 2 * Math.log(lower.get(i, i));
  const quadratic = residual.reduce((s, r, i) => s + r * weights[i], 0);
  const logsAt = (values: readonly Recorded[]): number[] =>
    values.map((v) => {
      const roll = rollOff(v.log);
      let sum = believed(v.log);
      for (let i = 0; i < n; i++) sum += weights[i] * kernelOf(points[i], pointRoll[i], v, roll);
      return sum;
    });
  return {
    flare,
    logsAt,
    logEvidence: -0.5 * quadratic - 0.5 * logDeterminant - flare / prior.flareMean,
    read: (values) => {
      const cross = Matrix.zeros(n, values.length);
      for (let i = 0; i < n; i++)
        for (let j = 0; j < values.length; j++) cross.set(i, j, kernel(points[i], values[j]));
      const priorCovariance = values.map((a) => values.map((b) => kernel(a, b)));
      const gain = full.solve(cross);
      const explained = cross.transpose().mmul(gain);
      // What the card's own uncertainty adds: its noise carried through the regression's weights.
      const cardNoise = new Matrix(n, n);
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          cardNoise.set(
            i,
            j,
            points[i].patch === points[j].patch ? points[i].knownSd * points[j].knownSd : 0,
          );
      const card = gain.transpose().mmul(cardNoise).mmul(gain).to2DArray();
      return {
        logs: logsAt(values),
        covariance: priorCovariance.map((row, a) => row.map((v, b) => v - explained.get(a, b))),
        cardCovariance: card,
        lightWeights: values.map((_, j) => {
          const perPatch = samples.map(() => 0);
          points.forEach((p, i) => {
            perPatch[p.patch] += gain.get(i, j) * p.litShare;
          });
          return perPatch;
        }),
      };
    },
  };
};
