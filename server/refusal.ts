import type { Phrase } from '../analysis/phrases.ts';
import type { ServerErrorCode } from './contracts/errors.ts';

/** What may go with a refusal. */
export interface RefusalOptions {
  /** Seconds after which trying again makes sense. */
  readonly retryAfterSeconds?: number;
  /** The message for other languages, where there is more to it than the code says. */
  readonly phrase?: Phrase;
}

/** The server turns a request down: a code for programs, a sentence for people. */
export class Refusal extends Error {
  readonly code: ServerErrorCode;
  readonly retryAfterSeconds: number | undefined;
  readonly phrase: Phrase | null;

  constructor(code: ServerErrorCode, message: string, options: number | RefusalOptions = {}) {
    super(message);
    const { retryAfterSeconds, phrase } =
      typeof options === 'number' ? { retryAfterSeconds: options } : options;
    this.name = 'Refusal';
    this.code = code;
    this.retryAfterSeconds = retryAfterSeconds;
    this.phrase = phrase ?? null;
  }
}
