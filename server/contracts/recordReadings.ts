import { z } from 'zod';
import { marks, taps } from './marks.ts';
import { advice, reading } from './reading.ts';
import { readOptions } from './readOptions.ts';
import { away, id, page, remark, rowFields, sha256, time } from './recordText.ts';
import { exposure, exposureFields } from './recordThings.ts';
import { stripDescription } from './strip.ts';
import { target } from './target.ts';

/** What a reading is for: a calibration answers for times; controls and prints are held against one. */
export const purpose = z.enum(['calibration', 'control', 'print']);
export type Purpose = z.infer<typeof purpose>;

/** Most photos of one strip beside the first. */
export const MOST_FURTHER = 7;

/**
 * What is kept beside photo, strip, marks and target. Dye, cloth and light are found by the strip's words, and made where
 * they are new, unless an id is given.
 */
export const keepContext = z.object({
  /** Chosen by the sender, so that sending twice keeps once. */
  id: id.exactOptional(),
  purpose: purpose.default('calibration'),
  dyeId: id.nullable().default(null),
  clothId: id.nullable().default(null),
  lightId: id.nullable().default(null),
  /** What a light that is new is; lamps when left out. */
  lightKind: z.enum(['lamps', 'sun']).default('lamps'),
  cardId: id.nullable().default(null),
  planId: id.nullable().default(null),
  ...exposureFields,
  /** A person has looked at marks that were found with low confidence. */
  confirmed: z.boolean().default(false),
  /** Kept readings of the same dye, cloth and light whose steps are fitted together with this strip's. */
  withIds: z.array(id).max(8).readonly().exactOptional(),
  remark: remark.default(''),
});
export type KeepContext = z.infer<typeof keepContext>;

/** POST /api/record/readings: a form; all fields but the photo are JSON text. */
export const keepForm = z.object({
  photo: z.file(),
  strip: stripDescription,
  /** As set by a person; looked for in the photo when left out. */
  marks: marks.exactOptional(),
  /** Points on card and strip to look there. */
  taps: taps.exactOptional(),
  /** Further photos of the same strip; the field may be sent up to seven times. */
  also: z.array(z.file()).max(MOST_FURTHER).exactOptional(),
  /** Their marks, in their order; null where they are looked for. */
  alsoMarks: z.array(marks.nullable()).max(MOST_FURTHER).exactOptional(),
  target: target.exactOptional(),
  /** The workshop's timer and when a step counts as washed out, full or overexposed. */
  ...readOptions.unwrap().shape,
  context: keepContext.exactOptional(),
});

/** A reading as a line of the list. */
export const readingLine = z
  .object({
    ...rowFields,
    purpose,
    dyeId: id,
    clothId: id,
    lightId: id,
    dye: z.string(),
    cloth: z.string(),
    light: z.string(),
    ...exposure,
    batch: z.string().nullable(),
    cardId: id.nullable(),
    planId: id.nullable(),
    photo: sha256,
    /** When the photo was read, and by which version of the method. */
    readAt: time,
    methodVersion: z.string(),
    /** The earlier reading of the same photo that this one stands in for. */
    supersedesId: id.nullable(),
    /** The later one that stands in for this, unless it was put away. */
    supersededById: id.nullable(),
    status: advice.unwrap().shape.status,
    target,
    seconds: z.number().nullable(),
    low: z.number().nullable(),
    high: z.number().nullable(),
    roundedSeconds: z.number().nullable(),
    baseL: z.number().nullable(),
    deepestL: z.number().nullable(),
    shortestSeconds: z.number().nullable(),
    longestSeconds: z.number().nullable(),
    /** Read against a card of little contrast: good against itself only. */
    relative: z.boolean(),
    /** The least sure of the marks, 0..1. */
    marksConfidence: z.number(),
    /** A person has looked at the marks, or set them. */
    confirmed: z.boolean(),
    warnings: z.number().int(),
    remark,
  })
  .readonly();
export type ReadingLine = z.infer<typeof readingLine>;

/** GET /api/record/readings: what to list; newest exposure first. */
export const readingFilter = z.object({
  purpose: purpose.exactOptional(),
  dyeId: id.exactOptional(),
  clothId: id.exactOptional(),
  lightId: id.exactOptional(),
  batchId: id.exactOptional(),
  /** Exposed at or after, and before. */
  from: time.exactOptional(),
  to: time.exactOptional(),
  /** Words that all occur in names or remark. */
  text: z.string().trim().max(200).exactOptional(),
  /** Also readings that were put away. */
  away,
  /** Also readings that a later one stands in for. */
  superseded: z.stringbool().default(false),
  ...page,
});
export type ReadingFilter = z.infer<typeof readingFilter>;

export const readingList = z
  .object({ readings: z.array(readingLine).readonly(), total: z.number().int(), offset: z.number().int() })
  .readonly();
export type ReadingList = z.infer<typeof readingList>;

/** The steps of an earlier strip, with whose photo it was: as they were when they were fitted together with others. */
const earlierStrip = z
  .object({
    photo: sha256,
    points: z
      .array(
        z
          .object({
            seconds: z.number().min(0).max(1e7),
            L: z.number().min(-100).max(200),
            a: z.number(),
            b: z.number(),
            uL: z.number().min(0).max(100),
          })
          .readonly(),
      )
      .max(1000)
      .readonly(),
    covarianceL: z.array(z.array(z.number().min(-1e4).max(1e4)).readonly()).readonly(),
  })
  .readonly();
export type EarlierStrip = z.infer<typeof earlierStrip>;

/** What a reading was made from: with the photo, it can be read again bit for bit by the same method. */
export const readingSettings = z
  .object({
    strip: stripDescription,
    /** As they were given; null where they were looked for in the photo. */
    marks: marks.nullable(),
    /** Points that a person tapped; only with marks that were looked for. */
    taps: taps.exactOptional(),
    /** Further photos of the same strip, and their marks as they were given. */
    also: z
      .array(z.object({ photo: sha256, marks: marks.nullable() }).readonly())
      .max(MOST_FURTHER)
      .readonly()
      .exactOptional(),
    /** Earlier strips that were fitted together with this one. */
    earlier: z.array(earlierStrip).max(8).readonly().exactOptional(),
    target,
    /** The workshop's timer and thresholds, where they were not the usual ones. */
    options: readOptions.exactOptional(),
    seed: z.number().int(),
  })
  .readonly();
export type ReadingSettings = z.infer<typeof readingSettings>;

/** A kept reading, whole. */
export const keptReading = z
  .object({ line: readingLine, settings: readingSettings, reading, photoHref: z.string() })
  .readonly();
export type KeptReading = z.infer<typeof keptReading>;

/** POST /api/record/readings/:id/again: what is to be different; everything else as it was. */
export const againRequest = z.object({
  strip: stripDescription.exactOptional(),
  /** null: look for them anew. */
  marks: marks.nullable().exactOptional(),
  /** Points on card and strip to look there; those it was found with hold as long as its marks are not given anew. */
  taps: taps.exactOptional(),
  /** Those of the further photos, in their order. */
  alsoMarks: z.array(marks.nullable()).max(MOST_FURTHER).exactOptional(),
  target: target.exactOptional(),
  /** The workshop's timer and thresholds as they are now. */
  options: readOptions.exactOptional(),
  confirmed: z.boolean().default(false),
  remark: remark.exactOptional(),
});
export type AgainRequest = z.infer<typeof againRequest>;
