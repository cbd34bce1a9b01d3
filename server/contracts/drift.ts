import { z } from 'zod';
import { keptReading, warning } from './figure.ts';
import { phrase } from './phrase.ts';
import { controlScrap } from './transfer.ts';

/** A control scrap as it was noted: its shift, or its reading that the shift follows from. */
export const controlRecord = z
  .object({
    date: z.union([z.iso.date(), z.iso.datetime({ local: true, offset: true })]),
    setup: z.string().max(500).default(''),
    lampHours: z.number().min(0).optional(),
    shiftStops: z.number().min(-20).max(20).optional(),
    scraps: z.array(controlScrap).min(1).max(60).readonly().optional(),
  })
  .readonly()
  .refine((r) => (r.shiftStops === undefined) !== (r.scraps === undefined), {
    message: 'needs "shiftStops" or "scraps", and only one of them',
  });

/** Body of POST /api/drifts: what `tonestep drift` takes. Either records or readings of control scraps. */
export const driftQuestion = z
  .strictObject({
    records: z.array(controlRecord).min(1).max(5000).readonly().exactOptional(),
    /** Readings of control scraps, in the order of their making. */
    controls: z.array(keptReading).min(1).max(500).readonly().exactOptional(),
    /** The reading that control scraps are held against; not needed where records have shifts. */
    curve: keptReading.exactOptional(),
  })
  .readonly()
  .refine((q) => (q.records === undefined) !== (q.controls === undefined), {
    message: 'needs "records" or "controls", and only one of them',
  });
export type DriftQuestion = z.infer<typeof driftQuestion>;

const records = z
  .array(
    z
      .object({
        date: z.string().nullable(),
        file: z.string().nullable(),
        setup: z.string(),
        lampHours: z.number().exactOptional(),
        shiftStops: z.number(),
      })
      .readonly(),
  )
  .readonly();
const warnings = z.array(warning).readonly();
const runRule = z.enum(['beyond-limits', 'two-of-three', 'four-of-five', 'eight-on-one-side']);

export const drift = z.discriminatedUnion('kind', [
  z
    .object({
      kind: z.literal('gathering'),
      count: z.number().int(),
      needed: z.number().int(),
      sentence: z.string(),
      phrase: phrase.exactOptional(),
      records,
      warnings,
    })
    .readonly(),
  z
    .object({
      kind: z.literal('chart'),
      from: z.number().int(),
      individuals: z
        .object({
          state: z.enum(['provisional', 'baseline']),
          baselineCount: z.number().int(),
          mean: z.number(),
          meanMovingRange: z.number(),
          sigma: z.number(),
          lower: z.number(),
          upper: z.number(),
          movingRanges: z.array(z.number()).readonly(),
          movingRangeUpper: z.number(),
          signals: z
            .array(
              z.object({ rule: runRule, index: z.number().int(), side: z.enum(['high', 'low']) }).readonly(),
            )
            .readonly(),
          rangeSignals: z.array(z.number().int()).readonly(),
        })
        .readonly(),
      ewma: z
        .object({
          averages: z.array(z.number()).readonly(),
          lower: z.number(),
          upper: z.number(),
          beyond: z.array(z.number().int()).readonly(),
        })
        .readonly(),
      fading: z
        .object({
          stopsPer100Hours: z.number(),
          low: z.number(),
          high: z.number(),
          changing: z.boolean(),
        })
        .readonly()
        .nullable(),
      verdict: z.enum(['steady', 'drifting', 'jump']),
      levelStops: z.number(),
      timeFactor: z.number(),
      findings: z
        .array(
          z
            .object({
              code: z.enum([...runRule.options, 'moving-average', 'moving-range']),
              index: z.number().int(),
              text: z.string(),
            })
            .readonly(),
        )
        .readonly(),
      sentence: z.string(),
      phrase: phrase.exactOptional(),
      records,
      warnings,
    })
    .readonly(),
]);

/** Answer to POST /api/drifts. */
export const driftAnswer = z.object({ drift }).readonly();
export type DriftAnswer = z.infer<typeof driftAnswer>;
