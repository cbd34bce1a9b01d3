import { z } from 'zod';
import { figure, keptReading, seed, warning } from './figure.ts';
import { phrase } from './phrase.ts';
import { target } from './target.ts';

/** A control scrap read elsewhere: its time, L* and one standard uncertainty of it. */
export const controlScrap = z
  .object({
    seconds: z.number().positive().max(86_400),
    L: z.number().min(0).max(100),
    uL: z.number().positive().max(50),
  })
  .readonly();

/** Body of POST /api/transfers: what `tonestep transfer` takes. */
export const transferQuestion = z
  .strictObject({
    /** The reading whose times are to be restated. */
    curve: keptReading,
    /** Readings of control scraps made under the new light. */
    controls: z.array(keptReading).max(12).readonly().default([]),
    scraps: z.array(controlScrap).max(60).readonly().default([]),
    /** The reading's own when left out. */
    target: target.exactOptional(),
    timerStepSeconds: z.number().min(0.01).max(600).exactOptional(),
    seed: seed.exactOptional(),
  })
  .readonly();
export type TransferQuestion = z.infer<typeof transferQuestion>;

const scrapShift = z
  .object({
    seconds: z.number(),
    L: z.number(),
    depthPercent: z.number(),
    unusable: z.enum(['too-pale', 'too-deep']).nullable(),
    shiftStops: z.number().nullable(),
    uStops: z.number().nullable(),
  })
  .readonly();

const restated = z
  .object({
    target,
    words: z.string(),
    targetL: z.number(),
    recordedSeconds: z.number().nullable(),
    now: z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('restated'), seconds: figure }).readonly(),
      z
        .object({
          kind: z.enum(['not-determined', 'unattainable']),
          sentence: z.string(),
          phrase: phrase.exactOptional(),
        })
        .readonly(),
    ]),
    roundedSeconds: z.number().nullable(),
  })
  .readonly();

const warnings = z.array(warning).readonly();
const scraps = z.array(scrapShift).readonly();

export const transfer = z.discriminatedUnion('kind', [
  z
    .object({
      kind: z.literal('not-determined'),
      scraps,
      sentence: z.string(),
      phrase: phrase.exactOptional(),
      warnings,
      restated: z.null(),
    })
    .readonly(),
  z
    .object({
      kind: z.literal('transferred'),
      scraps,
      shiftStops: figure,
      shiftLog10: z.number(),
      timeFactor: figure,
      sentence: z.string(),
      phrase: phrase.exactOptional(),
      warnings,
      restated,
    })
    .readonly(),
]);

/** Answer to POST /api/transfers. */
export const transferAnswer = z.object({ transfer }).readonly();
export type TransferAnswer = z.infer<typeof transferAnswer>;
