import { z } from 'zod';
import { marks } from './marks.ts';
import { advice } from './reading.ts';
import { purpose, readingSettings } from './recordReadings.ts';
import { id, remark, rowFields, sha256, time } from './recordText.ts';
import { batch, card, cloth, dye, exposure, light, plan } from './recordThings.ts';
import { control, note, print } from './recordUse.ts';

export const ARCHIVE_FORMAT = 'tonestep-book';
export const ARCHIVE_VERSION = 1;

/** A kept photo; its bytes lie in photos/SHA256. */
export const archivedPhoto = z
  .object({
    sha256,
    bytes: z.number().int().min(1).max(2_000_000_000),
    format: z.enum(['jpeg', 'png', 'webp', 'tiff', 'avif', 'heic']),
    widthPx: z.number().int().positive().max(1_000_000),
    heightPx: z.number().int().positive().max(1_000_000),
    createdAt: time,
    /** True where the book that the archive was made from no longer had the photo's file: there is none here either. */
    lost: z.boolean(),
  })
  .readonly();
export type ArchivedPhoto = z.infer<typeof archivedPhoto>;

/** A kept reading's line; the reading itself lies in readings/ID.json. */
export const archivedReading = z
  .object({
    ...rowFields,
    purpose,
    dyeId: id,
    clothId: id,
    lightId: id,
    ...exposure,
    cardId: id.nullable(),
    planId: id.nullable(),
    photo: sha256,
    readAt: time,
    supersedesId: id.nullable(),
    confirmed: z.boolean(),
    remark,
    /** Fingerprint of readings/ID.json. */
    body: sha256,
  })
  .readonly();
export type ArchivedReading = z.infer<typeof archivedReading>;

/** book.json of an archive: every row of the book, each kind in the order of ids. */
export const bookFile = z
  .object({
    format: z.literal(ARCHIVE_FORMAT),
    version: z.literal(ARCHIVE_VERSION),
    dyes: z.array(dye).readonly(),
    cloths: z.array(cloth).readonly(),
    lights: z.array(light).readonly(),
    batches: z.array(batch).readonly(),
    cards: z.array(card).readonly(),
    plans: z.array(plan).readonly(),
    photos: z.array(archivedPhoto).readonly(),
    readings: z.array(archivedReading).readonly(),
    controls: z.array(control).readonly(),
    prints: z.array(print).readonly(),
    notes: z.array(note).readonly(),
  })
  .readonly();
export type BookFile = z.infer<typeof bookFile>;

const adviceKept = advice.unwrap().pick({
  target: true,
  status: true,
  seconds: true,
  low: true,
  high: true,
  roundedSeconds: true,
});

/**
 * readings/ID.json of an archive: what a reading was made from, and the reading as it was made. Readings of every method
 * version are kept as they are, so only what the book itself needs is fixed here; docs/formats.md has the rest.
 */
export const readingFile = z
  .object({
    settings: readingSettings,
    reading: z.looseObject({
      strip: z.looseObject({ dye: z.string(), cloth: z.string(), light: z.string(), card: z.string() }),
      steps: z
        .array(z.looseObject({ seconds: z.number().min(0), L: z.number(), uL: z.number().positive() }))
        .max(1000),
      curve: z.looseObject({ kind: z.enum(['fitted', 'too-few-steps', 'blank', 'count-differs']) }),
      advice: z.looseObject(adviceKept.shape),
      tone: z.looseObject({ relative: z.boolean() }),
      marks: z.looseObject(marks.unwrap().pick({ card: true, steps: true }).shape),
      warnings: z.array(z.looseObject({ code: z.string(), message: z.string() })),
      methodVersion: z.string(),
    }),
  })
  .readonly();
export type ReadingFile = z.infer<typeof readingFile>;

const count = z.number().int().min(0);

/** What came of bringing an archive in; counts are of rows. */
export const archiveAnswer = z
  .object({
    /** New to this book, by kind. */
    added: z.record(z.string(), count),
    /** There already, the same or newer here. */
    known: count,
    /** There already, older here: now as in the archive. */
    renewed: count,
    /** Things that had to take another name, because the book has another thing of that name. */
    renamed: z.array(z.object({ from: z.string(), to: z.string() }).readonly()).readonly(),
    photosAdded: count,
    /** Photos that neither the archive nor this book has. */
    photosLost: count,
    sentence: z.string(),
  })
  .readonly();
export type ArchiveAnswer = z.infer<typeof archiveAnswer>;
