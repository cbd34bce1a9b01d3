import type { ErrorHandler } from 'hono';
import type { Logger } from 'pino';
import { AnalysisError } from '../analysis/errors.ts';
import type { ErrorAnswer } from './contracts/errors.ts';
import { Refusal } from './refusal.ts';
import { STATUS_OF_CODE } from './statusOfCode.ts';

const asRefusal = (error: unknown): AnalysisError | Refusal | null =>
  error instanceof AnalysisError || error instanceof Refusal ? error : null;

/** Every error leaves the server here: refusals with their sentence, anything else logged and answered without detail. */
export const answerError =
  (log: Logger): ErrorHandler =>
  (error, c) => {
    const refusal = asRefusal(error);
    if (!refusal) {
      if (!c.req.raw.signal.aborted) log.error({ err: error }, 'a request failed');
      const body: ErrorAnswer = {
        error: {
          code: 'internal',
          message: 'Something went wrong inside Tonestep. Nothing of yours was changed.',
        },
      };
      return c.json(body, STATUS_OF_CODE.internal);
    }
    // What stands behind trouble with disk or database is for who runs the server, not for who asks. A name that is taken is
    // no trouble.
    if (refusal instanceof Refusal && refusal.cause !== undefined && STATUS_OF_CODE[refusal.code] >= 500)
      log.warn({ err: refusal.cause, code: refusal.code }, 'a request was refused');
    if (refusal instanceof Refusal && refusal.retryAfterSeconds !== undefined)
      c.header('Retry-After', String(refusal.retryAfterSeconds));
    const { phrase } = refusal;
    const body: ErrorAnswer = {
      error: { code: refusal.code, message: refusal.message, ...(phrase && { phrase }) },
    };
    return c.json(body, STATUS_OF_CODE[refusal.code]);
  };
