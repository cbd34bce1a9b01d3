import { z } from 'zod';
import type { CurveShape } from '../../analysis/curve/curve.ts';
import { warning } from './figure.ts';
import { marks, marksPart } from './marks.ts';
import { phrase } from './phrase.ts';
import { target } from './target.ts';

const budget = z
  .object({ step: z.number(), card: z.number(), illumination: z.number(), tone: z.number() })
  .readonly();

export const verdict = z.enum(['washed-out', 'building', 'full-depth', 'overexposed']);
export type Verdict = z.infer<typeof verdict>;

const step = z
  .object({
    seconds: z.number().min(0),
    L: z.number(),
    a: z.number(),
    b: z.number(),
    chroma: z.number(),
    hue: z.number(),
    Y: z.number(),
    deltaEToBase: z.number().nullable(),
    deltaEToPrevious: z.number().nullable(),
    density: z.number(),
    ksIndex: z.number(),
    unevennessL: z.number(),
    clippedShare: z.number(),
    tilesUsed: z.number().int(),
    tilesDropped: z.number().int(),
    uL: z.number().min(0),
    budget,
    verdict,
    reason: z.string(),
    phrase: phrase.exactOptional(),
  })
  .readonly();
export type StepReading = z.infer<typeof step>;

const curveModel = z.enum(['build-up', 'logistic', 'monotone']);
export type CurveModel = z.infer<typeof curveModel>;

/** What it takes to evaluate a curve: read by analysis/curve alone, so only its kind is looked at here. */
const curveShape = z.custom<CurveShape>(
  (value) =>
    typeof value === 'object' &&
    value !== null &&
    'model' in value &&
    curveModel.safeParse(value.model).success,
);

const covariance = z.array(z.array(z.number()).readonly()).readonly();

const points = z
  .array(
    z
      .object({ seconds: z.number(), L: z.number(), a: z.number(), b: z.number(), uL: z.number().min(0) })
      .readonly(),
  )
  .readonly();

const curve = z
  .object({
    model: curveModel,
    reason: z.string(),
    phrase: phrase.exactOptional(),
    runnerUp: curveModel.nullable(),
    parameters: z
      .record(
        z.string(),
        z.object({ value: z.number(), u: z.number().nullable(), unit: z.string() }).readonly(),
      )
      .readonly(),
    points,
    covarianceL: covariance,
    used: z.array(z.number().int()).readonly(),
    timer: z.object({ seconds: z.number(), share: z.number() }).readonly(),
    shape: curveShape,
    shapeWeight: z.number(),
    alternatives: z.array(z.object({ shape: curveShape, weight: z.number() }).readonly()).readonly(),
    chiSquared: z.number(),
    degreesOfFreedom: z.number(),
    extraScatterL: z.number(),
    colour: z
      .object({
        a: z.array(z.number()).readonly(),
        b: z.array(z.number()).readonly(),
        depthFrom: z.number(),
        depthTo: z.number(),
      })
      .readonly(),
    baseSeen: z.boolean(),
    baseL: z.number(),
    baseU: z.number().nullable(),
    deepestL: z.number(),
    deepestU: z.number().nullable(),
    shortestSeconds: z.number(),
    longestSeconds: z.number(),
    straight: z.object({ fromSeconds: z.number(), toSeconds: z.number() }).readonly().nullable(),
    exposureScaleStops: z.number().nullable(),
    contrastLPerStop: z.number().nullable(),
    secondsTo90: z.number().nullable(),
    secondsToFull: z.number().nullable(),
    reversed: z.boolean(),
    reversedFromSeconds: z.number().nullable(),
    remarks: z.array(z.string()).readonly(),
    remarkPhrases: z.array(phrase).readonly().exactOptional(),
  })
  .readonly();
export type Curve = z.infer<typeof curve>;

const noCurve = { message: z.string(), phrase: phrase.exactOptional(), points };
const curveOutcome = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('fitted'), curve }).readonly(),
  z.object({ kind: z.literal('too-few-steps'), ...noCurve }).readonly(),
  z.object({ kind: z.literal('blank'), ...noCurve }).readonly(),
  z.object({ kind: z.literal('count-differs'), ...noCurve }).readonly(),
]);
export type CurveOutcome = z.infer<typeof curveOutcome>;

export const advice = z
  .object({
    target,
    status: z.enum(['inside', 'beyond', 'unattainable', 'too-few-steps', 'count-differs']),
    targetL: z.number().nullable(),
    seconds: z.number().nullable(),
    low: z.number().nullable(),
    high: z.number().nullable(),
    highOpen: z.boolean(),
    widthStops: z.number().nullable(),
    roundedSeconds: z.number().nullable(),
    roundedL: z.number().nullable(),
    roundedDepthPercent: z.number().nullable(),
    swatchDeltaE: z.number().nullable(),
    sentence: z.string().min(1),
    nextStrip: z
      .object({
        seconds: z.array(z.number()).readonly(),
        reason: z.string(),
        phrase: phrase.exactOptional(),
        expectedWidthStops: z.number().nullable(),
        expectedTogetherStops: z.number().nullable(),
      })
      .readonly()
      .nullable(),
  })
  .readonly();
export type Advice = z.infer<typeof advice>;

const illumination = z
  .object({
    method: z.enum(['surround', 'base-cloth', 'card-ends', 'within-patches']),
    accepted: z.boolean(),
    reason: z.string(),
    phrase: phrase.exactOptional(),
    fallOffRatio: z.number().nullable(),
    relativeU: z.number(),
  })
  .readonly();
export type Illumination = z.infer<typeof illumination>;

const tone = z
  .object({
    patchesUsed: z.number().int(),
    patchesRefused: z
      .array(z.object({ name: z.string(), reason: z.string(), phrase: phrase.exactOptional() }).readonly())
      .readonly(),
    exponent: z.number(),
    flare: z.number(),
    leaveOneOutL: z.number().nullable(),
    relative: z.boolean(),
  })
  .readonly();

const photoFacts = z
  .object({
    widthPx: z.number().int(),
    heightPx: z.number().int(),
    format: z.string(),
    profile: z.string(),
  })
  .readonly();

/** Everything read from the photos of one strip, as it leaves the server. */
export const reading = z
  .object({
    strip: z.object({ dye: z.string(), cloth: z.string(), light: z.string(), card: z.string() }).readonly(),
    photo: photoFacts,
    /** Further photos of the strip; missing where there was one. */
    furtherPhotos: z.array(photoFacts).readonly().exactOptional(),
    /** Where things are in each of them; missing in readings of earlier versions. */
    furtherMarks: z.array(marks).readonly().exactOptional(),
    repeatability: z
      .object({
        photos: z.number(),
        turned: z.boolean().exactOptional(),
        measuredL: z.number(),
        expectedL: z.number(),
      })
      .readonly()
      .nullable(),
    steps: z.array(step).readonly(),
    covarianceL: covariance,
    curve: curveOutcome,
    advice,
    illumination,
    tone,
    marks,
    planId: z.string().exactOptional(),
    needs: z
      .array(z.object({ part: marksPart, message: z.string(), phrase: phrase.exactOptional() }).readonly())
      .readonly()
      .default([]),
    colour: z
      .object({
        matrix: z.array(z.number()).readonly(),
        applied: z.boolean(),
        withoutDeltaE: z.number(),
        withDeltaE: z.number(),
      })
      .readonly()
      .nullable(),
    warnings: z.array(warning).readonly(),
    methodVersion: z.string(),
  })
  .readonly();
export type Reading = z.infer<typeof reading>;
