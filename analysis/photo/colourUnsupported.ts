import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import type { ColoursWhy } from '../refusals.ts';

/** The refusal `profile-unsupported` of a file whose colours can't be turned into light: what it holds, and what to do; `detail` is what varies in it. */
export function colourUnsupported(
  what: string,
  why: ColoursWhy,
  detail = '',
  cause?: unknown,
): AnalysisError {
  return new AnalysisError(
    'profile-unsupported',
    `${what} Export the photo as an RGB JPEG with the sRGB or Display P3 profile and try again.`,
    { cause, phrase: phrase('colours-unsupported', { why, detail }) },
  );
}
