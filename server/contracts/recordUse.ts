import { z } from 'zod';
import { figure } from './figure.ts';
import { phrase } from './phrase.ts';
import { advice } from './reading.ts';
import { away, id, lampHours, name, page, remark, rowFields, sky, time } from './recordText.ts';
import { exposure, exposureFields } from './recordThings.ts';
import { target } from './target.ts';

export const scrap = z
  .object({
    seconds: z.number().positive().max(1_209_600),
    L: z.number().min(0).max(100),
    uL: z.number().positive().max(50),
  })
  .readonly();

/** POST /api/record/controls: a control scrap, as a kept reading or as its numbers. */
export const controlFields = z
  .object({
    /** Chosen by the sender, so that sending twice keeps once. */
    id: id.exactOptional(),
    /** The calibration that it is held against; the latest of its dye, cloth and light when left out. */
    againstId: id.nullable().default(null),
    /** The kept reading of the scrap. */
    readingId: id.nullable().default(null),
    /** Its numbers, where it was read elsewhere. */
    scraps: z.array(scrap).min(1).max(60).readonly().exactOptional(),
    /** What else is as it always is: glass, water, phone. Another text starts a new baseline. */
    setup: z.string().trim().max(500).default(''),
    ...exposureFields,
    remark: remark.default(''),
  })
  .refine((c) => (c.readingId === null) !== (c.scraps === undefined), {
    message: 'needs "readingId" or "scraps", and only one of them',
  });

export const control = z
  .object({
    ...rowFields,
    againstId: id,
    readingId: id.nullable(),
    dyeId: id,
    clothId: id,
    lightId: id,
    scraps: z.array(scrap).readonly(),
    setup: z.string(),
    ...exposure,
    /** log2 of the light then over the light of the calibration; no value where the scraps can't tell. */
    shiftStops: figure,
    /** What the scraps say, in a sentence. */
    sentence: z.string(),
    remark,
  })
  .readonly();
export type Control = z.infer<typeof control>;

/** How a print came out by eye, against what was promised for the time that it was given. */
export const judged = z.enum(['paler', 'right', 'deeper']);
export type Judged = z.infer<typeof judged>;

/** POST /api/record/prints: a print that was made; no photo of it is needed. */
export const printFields = z.object({
  /** Chosen by the sender, so that sending twice keeps once. */
  id: id.exactOptional(),
  name: name.exactOptional(),
  dyeId: id,
  clothId: id,
  lightId: id,
  ...exposureFields,
  secondsUsed: z.number().positive().max(1_209_600),
  target: target.exactOptional(),
  /** The calibration that gave the time; the one that 'today' would take when left out. */
  calibrationId: id.nullable().default(null),
  /** L* that was to be reached, and by which factor times were moved; worked out when left out. */
  predictedL: z.number().min(0).max(100).nullable().default(null),
  /** L* reached on the finished print, and its standard uncertainty; or the kept reading of it. */
  reachedL: z.number().min(0).max(100).nullable().default(null),
  reachedUL: z.number().positive().max(50).nullable().default(null),
  /** Or how it came out by eye. */
  judged: judged.nullable().default(null),
  readingId: id.nullable().default(null),
  remark: remark.default(''),
});

export const print = z
  .object({
    ...rowFields,
    name: z.string(),
    dyeId: id,
    clothId: id,
    lightId: id,
    ...exposure,
    secondsUsed: z.number(),
    target: target.nullable(),
    calibrationId: id.nullable(),
    /** Shift of the light that the prediction counted with, in stops. */
    movedStops: z.number(),
    predictedL: z.number().nullable(),
    predictedDepthPercent: z.number().nullable(),
    reachedL: z.number().nullable(),
    reachedUL: z.number().nullable(),
    reachedDepthPercent: z.number().nullable(),
    /** By eye; books of before had no such field. */
    judged: judged.nullable().default(null),
    readingId: id.nullable(),
    /** log2 of the exposure that would have given what was reached, over the one used; null where it can't be told. */
    missedStops: z.number().nullable(),
    remark,
  })
  .readonly();
export type Print = z.infer<typeof print>;

/** PATCH /api/record/prints/:id: what came out, once the print is dry; what is left out is taken back. */
export const printReached = z.object({
  reachedL: z.number().min(0).max(100).nullable().default(null),
  reachedUL: z.number().positive().max(50).nullable().default(null),
  judged: judged.nullable().default(null),
});

const useFilter = {
  dyeId: id.exactOptional(),
  clothId: id.exactOptional(),
  lightId: id.exactOptional(),
  away,
  ...page,
};
export const useQuery = z.object(useFilter);
export type UseQuery = z.infer<typeof useQuery>;

export const controlList = z
  .object({ controls: z.array(control).readonly(), total: z.number().int() })
  .readonly();
export const printList = z.object({ prints: z.array(print).readonly(), total: z.number().int() }).readonly();

/** POST /api/record/today: how long today? */
export const todayQuestion = z.object({
  dyeId: id,
  clothId: id,
  lightId: id,
  /** As deep as it goes when left out. */
  target: target.exactOptional(),
  batchId: id.nullable().default(null),
  cardId: id.nullable().default(null),
  lampHours: lampHours.nullable().default(null),
  sky: sky.nullable().default(null),
  /** The moment it is asked for; now when left out. */
  at: time.exactOptional(),
  timerStepSeconds: z.number().min(0.1).max(3600).exactOptional(),
});
export type TodayQuestion = z.infer<typeof todayQuestion>;

/** Why a time should not be trusted as it stands. */
export const doubtCode = z.enum([
  'lamp-hours',
  'lamp-hours-unknown',
  'lamps-replaced',
  'other-batch',
  'batch-unknown',
  'batch-age',
  'season',
  'sun',
  'sky',
  'other-card',
  'other-light',
  'relative',
  'marks-unconfirmed',
  'old',
  'other-method',
  'wide',
  'off-strip',
  'control-jump',
  'control-old',
  'control-unusable',
  'control-warning',
  'prints-missed',
]);
export type DoubtCode = z.infer<typeof doubtCode>;

export const doubt = z
  .object({
    code: doubtCode,
    /** `distrust`: check on a scrap first. `note`: good to know. */
    weight: z.enum(['distrust', 'note']),
    message: z.string(),
    phrase: phrase.exactOptional(),
  })
  .readonly();
export type Doubt = z.infer<typeof doubt>;

/** The calibration that answers. */
const basis = z
  .object({
    readingId: id,
    exposedAt: time,
    ageDays: z.number(),
    methodVersion: z.string(),
    lampHours: lampHours.nullable(),
    batchId: id.nullable(),
    sky: sky.nullable(),
    /** Calibrations of this dye, cloth and light in the book, this one included. */
    ofHowMany: z.number().int(),
  })
  .readonly();

/** What the calibration's times were moved by. */
const moved = z
  .object({
    by: z.enum(['nothing', 'control', 'controls', 'sky']),
    /** Light today over the light of the calibration, log2. */
    shiftStops: figure,
    controlIds: z.array(id).readonly(),
    sentence: z.string(),
  })
  .readonly();

export const today = z.discriminatedUnion('kind', [
  z
    .object({
      kind: z.literal('time'),
      target,
      seconds: z.number(),
      low: z.number(),
      high: z.number(),
      /** True where `high` is only as far as the calibration can tell. */
      highOpen: z.boolean(),
      roundedSeconds: z.number(),
      predictedL: z.number(),
      predictedDepthPercent: z.number(),
      basis,
      moved,
      doubts: z.array(doubt).readonly(),
      /** No doubt of the weight `distrust`. */
      trusted: z.boolean(),
      sentence: z.string(),
    })
    .readonly(),
  z
    .object({
      kind: z.literal('no-time'),
      target,
      status: advice.unwrap().shape.status,
      basis,
      moved,
      doubts: z.array(doubt).readonly(),
      sentence: z.string(),
      phrase: phrase.exactOptional(),
      nextStrip: advice.unwrap().shape.nextStrip,
    })
    .readonly(),
  z.object({ kind: z.literal('no-calibration'), target, sentence: z.string() }).readonly(),
]);
export type Today = z.infer<typeof today>;

export const feedbackQuery = z.object({
  dyeId: id.exactOptional(),
  clothId: id.exactOptional(),
  lightId: id.exactOptional(),
});
export type FeedbackQuery = z.infer<typeof feedbackQuery>;

/** Prints made against what was predicted. */
export const feedback = z
  .object({
    /** Prints with a prediction and a reached depth. */
    prints: z.array(print).readonly(),
    /** Mean of reached less predicted depth, in % of depth, with a 90 % interval; from two prints on. */
    depthPercent: figure,
    /** Mean of `missedStops`: positive where prints come out deeper than predicted. */
    missedStops: figure,
    /** The interval of `missedStops` leaves no bias out. */
    biased: z.boolean(),
    /** Prints that were judged by eye and not measured, against what was promised. */
    byEye: z
      .object({
        paler: z.number().int(),
        right: z.number().int(),
        deeper: z.number().int(),
        /** To which side they lean more than chance lets them; null where they don't. */
        leans: z.enum(['paler', 'deeper']).nullable(),
      })
      .readonly(),
    sentence: z.string(),
  })
  .readonly();
export type Feedback = z.infer<typeof feedback>;

/** Which rows can be put away and have notes. */
export const rowKind = z.enum([
  'dye',
  'cloth',
  'light',
  'batch',
  'card',
  'plan',
  'reading',
  'control',
  'print',
  'note',
]);
export type RowKind = z.infer<typeof rowKind>;

export const noteFields = z.object({
  on: z.object({ kind: rowKind.exclude(['note']), id }).readonly(),
  text: remark.min(1),
});
export const note = z.object({ ...rowFields, on: noteFields.shape.on, text: z.string() }).readonly();
export type Note = z.infer<typeof note>;
export const noteQuery = z.object({ kind: rowKind.exclude(['note']), id, away });
export const noteList = z.object({ notes: z.array(note).readonly() }).readonly();

/** POST /api/record/put-away and /api/record/bring-back. */
export const rowName = z.object({ kind: rowKind, id });
export const rowState = z.object({ kind: rowKind, id, putAwayAt: time.nullable() }).readonly();
export type RowState = z.infer<typeof rowState>;

/** GET /api/record: what book this is. */
export const bookAnswer = z
  .object({
    database: z.enum(['sqlite', 'postgresql']),
    /** The data folder in short ("~/…"); null unless asked from this machine. */
    place: z.string().nullable(),
    counts: z.record(rowKind, z.number().int()),
    photos: z.number().int(),
    photoBytes: z.number(),
  })
  .readonly();
export type BookAnswer = z.infer<typeof bookAnswer>;

/** GET /api/health. */
export const health = z
  .object({ status: z.enum(['ok', 'no-book']), version: z.string(), message: z.string() })
  .readonly();
export type Health = z.infer<typeof health>;
