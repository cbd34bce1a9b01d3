import type { Phrase } from './phrases.ts';

/** Every way the analysis refuses its input. Foreseeable outcomes (too few steps, blank strip) are not errors. */
export type AnalysisErrorCode =
  | 'photo-unreadable'
  | 'photo-damaged'
  | 'photo-format-unsupported'
  | 'photo-too-large'
  | 'photo-too-small'
  | 'profile-unsupported'
  | 'strip-invalid'
  | 'card-invalid'
  | 'marks-invalid'
  | 'marks-outside-photo'
  | 'marks-too-small'
  | 'card-not-found'
  | 'strip-not-found'
  | 'card-unusable'
  | 'target-invalid'
  | 'plan-invalid'
  | 'comparison-invalid';

/** Refused input: a code for programs and a sentence for people that says what to do next. */
export class AnalysisError extends Error {
  readonly code: AnalysisErrorCode;
  /** The message for other languages, where there is more to it than the code says. */
  readonly phrase: Phrase | null;

  constructor(
    code: AnalysisErrorCode,
    message: string,
    options?: { readonly cause?: unknown; readonly phrase?: Phrase },
  ) {
    super(message, options);
    this.name = 'AnalysisError';
    this.code = code;
    this.phrase = options?.phrase ?? null;
  }
}

/** Something the reader should know about a reading that nevertheless stands. */
export interface Warning {
  readonly code: string;
  readonly message: string;
  readonly phrase?: Phrase;
}
