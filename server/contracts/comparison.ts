import { z } from 'zod';
import { figure, keptReading, seed } from './figure.ts';
import { phrase } from './phrase.ts';

/** Body of POST /api/comparisons: what `tonestep compare` takes. */
export const comparisonQuestion = z
  .strictObject({
    readings: z.array(keptReading).min(2).max(12).readonly(),
    /** One for each reading; the strip's dye where left out. */
    names: z.array(z.string().min(1).max(200)).readonly().exactOptional(),
    depthPercent: z.number().gt(0).lt(100).exactOptional(),
    /** A lightness that all dyes are timed to. */
    targetL: z.number().gt(0).lt(100).exactOptional(),
    /** Cloth and light are the same, however they are written in the readings. */
    same: z.boolean().default(false),
    seed: seed.exactOptional(),
  })
  .readonly();
export type ComparisonQuestion = z.infer<typeof comparisonQuestion>;

const comparedFigure = z.enum([
  'secondsToDepth',
  'secondsTo90',
  'contrastLPerStop',
  'exposureScaleStops',
  'deepestL',
  'deepestChroma',
  'deepestHue',
  'secondsToTarget',
]);

const bandPoint = z
  .object({ seconds: z.number(), L: z.number(), low: z.number(), high: z.number() })
  .readonly();
export type BandPoint = z.infer<typeof bandPoint>;

export const comparison = z.discriminatedUnion('kind', [
  z
    .object({ kind: z.literal('not-comparable'), reason: z.string(), phrase: phrase.exactOptional() })
    .readonly(),
  z
    .object({
      kind: z.literal('compared'),
      depthPercent: z.number(),
      targetL: z.number().nullable(),
      dyes: z
        .array(
          z
            .object({
              name: z.string(),
              secondsToDepth: figure,
              secondsTo90: figure,
              contrastLPerStop: figure,
              exposureScaleStops: figure,
              deepestL: figure,
              deepestChroma: figure,
              deepestHue: figure,
              secondsToTarget: figure,
            })
            .readonly(),
        )
        .readonly(),
      /** How surely each curve is known: L* at times in equal ratios with its 90 % interval, in the order of the dyes. */
      bands: z.array(z.array(bandPoint).readonly()).readonly(),
      pairs: z
        .array(
          z
            .object({
              first: z.string(),
              second: z.string(),
              differences: z
                .array(
                  z
                    .object({
                      figure: comparedFigure,
                      difference: figure,
                      unit: z.enum(['stops', 'L*', 'L* per stop', 'C*', 'degrees']),
                      verdict: z.enum(['different', 'not-separable', 'unknown']),
                    })
                    .readonly(),
                )
                .readonly(),
              sentence: z.string(),
              phrase: phrase.exactOptional(),
            })
            .readonly(),
        )
        .readonly(),
    })
    .readonly(),
]);

/** Answer to POST /api/comparisons. */
export const comparisonAnswer = z.object({ comparison }).readonly();
export type ComparisonAnswer = z.infer<typeof comparisonAnswer>;
