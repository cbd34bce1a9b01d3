import type { ServerErrorCode } from './contracts/errors.ts';

/** The server turns a request down: a code for programs, a sentence for people. */
export class Refusal extends Error {
  readonly code: ServerErrorCode;
  /** Seconds after which trying again makes sense; only with `busy`. */
  readonly retryAfterSeconds: number | undefined;

  constructor(code: ServerErrorCode, message: string, retryAfterSeconds?: number) {
    super(message);
    this.name = 'Refusal';
    this.code = code;
    this.retryAfterSeconds = retryAfterSeconds;
  }
}
