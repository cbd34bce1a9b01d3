import { z } from 'zod';

/** Random UUID: books of two machines can be put together. */
export const id = z.uuid();
export type Id = z.infer<typeof id>;

/** A moment, ISO 8601 in UTC: "2026-05-03T09:30:00.000Z". */
export const time = z.iso.datetime();

/** Fingerprint of a photo's bytes, in hex. */
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

/**
 * One line that names a thing. No control characters and no half characters, which databases cut or change; nothing that
 * turns the direction of writing or ends a line, by which one name passes for another.
 */
export const name = z
  .string()
  .trim()
  .min(1)
  .max(200)
  .regex(/^[^\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069\u2028\u2029]+$/u);

/** Free words of a person, several lines if need be; empty where there are none. */
export const remark = z
  .string()
  .max(10_000)
  .regex(/^(?:[^\p{Cc}\p{Cs}]|[\n\t])*$/u);

export const lampHours = z.number().min(0).max(1_000_000);

export const sky = z.enum(['clear', 'scattered', 'broken', 'overcast']);
export type Sky = z.infer<typeof sky>;

/** What every row of the book has. Nothing is deleted: a row is put away, and can be brought back. */
export const rowFields = {
  id,
  createdAt: time,
  /** When it was last changed, put away or brought back. */
  changedAt: time,
  putAwayAt: time.nullable(),
};

/** Also rows that were put away? */
export const away = z.stringbool().default(false);

/** How many rows of a list, and from which on (0 is the first). */
export const page = {
  limit: z.coerce.number().int().min(1).max(500).default(50),
  offset: z.coerce.number().int().min(0).max(10_000_000).default(0),
};
