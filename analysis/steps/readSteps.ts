import { densityFromY } from '../colour/density.ts';
import { ksFromReflectance } from '../colour/kubelkaMunk.ts';
import { type Lab, xyzToLab } from '../colour/lab.ts';
import { lightnessFromY } from '../colour/lightness.ts';
import { applyMatrix3 } from '../colour/matrix3.ts';
import type { Covariance, Levelled, LevelledStep } from '../level/levelled.ts';
import type { Rgb, RgbProfile } from '../photo/photo.ts';
import { clippedU } from './clippedU.ts';
import { colourOfSteps } from './colourOfSteps.ts';
import type { Step, StepSet } from './step.ts';

/** Reflectance below which a camera channel says nothing more. */
const DARKEST = 0.001;
/** Recorded values hold about half a code of rounding and the file's compression, as L*. */
const FILE_U_L = 0.05;

const slopeOfLightness = (Y: number): number => {
  const h = 1e-4 + 0.01 * Y;
  return (lightnessFromY(Y + h) - lightnessFromY(Math.max(0, Y - h))) / (Y + h - Math.max(0, Y - h));
};

const usable = (value: number): number => Math.min(1.2, Math.max(DARKEST, value));

/** The camera channel in which some step gains most K/S over the first: where this dye absorbs. */
const absorbingChannel = (steps: readonly LevelledStep[]): 0 | 1 | 2 => {
  const ks = (step: LevelledStep, c: 0 | 1 | 2) =>
    ksFromReflectance(Math.min(1, usable(step.reflectance[c])));
  const gain = ([0, 1, 2] as const).map((c) => Math.max(...steps.map((s) => ks(s, c))) - ks(steps[0], c));
  return gain[0] >= gain[1] && gain[0] >= gain[2] ? 0 : gain[1] >= gain[2] ? 1 : 2;
};

/** Direction from the first step to the last; null where other steps lie further apart, as in scraps laid in rows. */
const directionOf = (steps: readonly LevelledStep[]): number | null => {
  const places = steps.map(({ mean }) => [mean.x, mean.y] as const);
  const [first, last] = [places[0], places[places.length - 1]];
  const length = Math.hypot(last[0] - first[0], last[1] - first[1]);
  const widest = Math.max(...places.map(([x, y]) => Math.hypot(x - first[0], y - first[1])));
  if (length === 0 || length < widest) return null;
  return (Math.atan2(last[1] - first[1], last[0] - first[0]) * 180) / Math.PI;
};

/**
 * What is each step's colour, and how sure is it?
 *
 * @param levelled reflectance per step with its covariance by source.
 * @param profile the photo's: it takes reflectance in the file's primaries to CIE XYZ.
 * @returns CIELAB (D65, 2°, perfect white), differences, density, K/S index and the u(L*) budget per step.
 */
export const readSteps = (levelled: Levelled, profile: RgbProfile): StepSet => {
  const { steps, covarianceY } = levelled;
  const xyz = steps.map((s) => applyMatrix3(profile.toXyz65, s.reflectance));
  const Y = xyz.map((v) => Math.max(DARKEST, v[1]));
  const lab = xyz.map((v): Lab => xyzToLab([v[0], Math.max(DARKEST, v[1]), v[2]]));
  const slope = Y.map(slopeOfLightness);
  const weightsY: Rgb = [profile.toXyz65[3], profile.toXyz65[4], profile.toXyz65[5]];
  /** What a step has to itself besides the spread of its tiles: the file's rounding, and pixels out of its range. */
  const ownU = steps.map(({ mean, reflectance }, i) =>
    Math.hypot(FILE_U_L, slope[i] * clippedU(mean.rgb, reflectance, weightsY, mean.clippedShare)),
  );
  const inL = (covariance: Covariance, i: number, j: number) => slope[i] * slope[j] * covariance[i][j];
  const covarianceL = steps.map((_, i) =>
    steps.map(
      (_, j) =>
        inL(covarianceY.step, i, j) +
        inL(covarianceY.card, i, j) +
        inL(covarianceY.illumination, i, j) +
        inL(covarianceY.tone, i, j) +
        (i === j ? ownU[i] ** 2 : 0),
    ),
  );
  const sharedCovarianceL = steps.map((_, i) =>
    steps.map((_, j) => inL(covarianceY.step, i, j) + inL(covarianceY.card, i, j)),
  );
  const slantCovarianceL = steps.map((_, i) => steps.map((_, j) => inL(levelled.slantCovarianceY, i, j)));
  const channel = absorbingChannel(steps);
  const ks = steps.map((s) => ksFromReflectance(Math.min(1, usable(s.reflectance[channel]))));
  const hasBase = steps[0].seconds === 0;
  const colours = colourOfSteps(lab, hasBase);
  return {
    covarianceL,
    sharedCovarianceL,
    slantCovarianceL,
    directionDegrees: directionOf(steps),
    steps: steps.map(({ seconds, mean }, i): Step => {
      const part = (covariance: Covariance) => Math.sqrt(Math.max(0, inL(covariance, i, i)));
      return {
        seconds,
        ...colours[i],
        Y: Y[i],
        density: densityFromY(Y[i]),
        ksIndex: ks[i] - (hasBase ? ks[0] : 0),
        unevennessL: slope[i] * Y[i] * mean.unevenness,
        clippedShare: mean.clippedShare,
        tilesUsed: mean.tilesUsed,
        tilesDropped: mean.tilesDropped,
        uL: Math.sqrt(covarianceL[i][i]),
        budget: {
          step: Math.hypot(part(covarianceY.step), ownU[i]),
          card: part(covarianceY.card),
          illumination: part(covarianceY.illumination),
          tone: part(covarianceY.tone),
        },
      };
    }),
  };
};
