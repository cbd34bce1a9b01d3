import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { phrase } from '../../analysis/phrases.ts';
import { Refusal } from '../refusal.ts';

export const MOST_UPLOAD_MB = 60;

/** Refuses a body that is larger than any phone photo. */
export const uploadLimit: MiddlewareHandler = bodyLimit({
  maxSize: MOST_UPLOAD_MB * 1_000_000,
  onError: () => {
    throw new Refusal(
      'upload-too-large',
      `A photo may have up to ${MOST_UPLOAD_MB} MB. Save it as JPEG or make it smaller, then send it again.`,
      { phrase: phrase('upload-large', { megabytes: MOST_UPLOAD_MB }) },
    );
  },
});

/** A code needs few bytes; a stranger may send no more. */
export const exchangeLimit: MiddlewareHandler = bodyLimit({
  maxSize: 1000,
  onError: () => {
    throw new Refusal('upload-too-large', 'A code is shorter than that.');
  },
});
