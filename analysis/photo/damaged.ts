import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

/** The refusal `photo-damaged` of a file that begins like a photo but can't be decoded whole. */
export function damaged(cause: unknown): AnalysisError {
  return new AnalysisError(
    'photo-damaged',
    'The photo is damaged or cut short. Copy it again from the phone or camera, or export it as a new JPEG.',
    { cause, phrase: phrase('file-damaged', {}) },
  );
}
