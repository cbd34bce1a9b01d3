import { z } from 'zod';
import { phrase } from './phrase.ts';

/** Refusals of a photo's file, wherever one is taken in. */
export const photoFileCodes = [
  'photo-unreadable',
  'photo-damaged',
  'photo-format-unsupported',
  'photo-too-large',
  'photo-too-small',
  'profile-unsupported',
] as const;

/** Refusals that the analysis makes: same names as its own codes (a test holds the two together). */
const analysisCodes = [
  ...photoFileCodes,
  'strip-invalid',
  'card-invalid',
  'marks-invalid',
  'marks-outside-photo',
  'marks-too-small',
  'card-not-found',
  'strip-not-found',
  'card-unusable',
  'target-invalid',
  'plan-invalid',
  'comparison-invalid',
] as const;

/** Refusals that the server makes before or around the analysis. */
const serverCodes = [
  'request-invalid',
  'upload-too-large',
  'busy',
  'timed-out',
  'host-refused',
  'origin-refused',
  'pairing-needed',
  'pairing-refused',
  'pairing-limited',
  'pairing-full',
  'computer-only',
  'book-shut',
  'lan-off',
  'inbox-full',
  'disk-full',
  'book-read-only',
  'book-busy',
  'book-unavailable',
  'book-conflict',
  'book-incomplete',
  'marks-unconfirmed',
  'no-calibration',
  'photo-lost',
  'photo-forgotten',
  'archive-invalid',
  'archive-damaged',
  'archive-too-large',
  'not-found',
  'internal',
] as const;

export const serverErrorCode = z.enum(serverCodes);
export type ServerErrorCode = z.infer<typeof serverErrorCode>;

export const errorCode = z.enum([...analysisCodes, ...serverCodes]);
export type ErrorCode = z.infer<typeof errorCode>;

/** The one shape of every answer that is not a success. */
export const errorAnswer = z.object({
  error: z.object({ code: errorCode, message: z.string().min(1), phrase: phrase.exactOptional() }),
});
export type ErrorAnswer = z.infer<typeof errorAnswer>;
