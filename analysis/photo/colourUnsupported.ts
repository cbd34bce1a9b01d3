import { AnalysisError } from '../errors.ts';

/** The refusal of a file whose colours can't be turned into light: what it holds, and what to do. */
export function colourUnsupported(what: string, cause?: unknown): AnalysisError {
  return new AnalysisError(
    'profile-unsupported',
    `${what} Export the photo as an RGB JPEG with the sRGB or Display P3 profile and try again.`,
    { cause },
  );
}
