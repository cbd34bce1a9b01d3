import { z } from 'zod';
import { AnalysisError } from '../errors.ts';
import { firstIssue, issueOf } from '../firstIssue.ts';
import { phrase } from '../phrases.ts';
import type { Point } from './marks.ts';

/** Where a person tapped to help the finder, in pixels of the upright photo. */
export interface Taps {
  /** A point on the card. */
  readonly card?: Point;
  /** A point on the strip, or on one of its scraps. */
  readonly strip?: Point;
}

const point = z.tuple([z.number(), z.number()]);
const tapsShape = z.strictObject({ card: point.exactOptional(), strip: point.exactOptional() });

/**
 * Which points on card and strip did a person tap? Takes parsed JSON `{card?: [x, y], strip?: [x, y]}`.
 *
 * @throws AnalysisError `marks-invalid`, with what to change.
 */
export const parseTaps = (json: unknown): Taps => {
  const parsed = tapsShape.safeParse(json);
  if (!parsed.success)
    throw new AnalysisError(
      'marks-invalid',
      `The taps can't be used: ${firstIssue(parsed.error)}. They are {"card": [x, y], "strip": [x, y]}, either may be missing, in pixels of the upright photo.`,
      { phrase: phrase('taps-unreadable', { issue: issueOf(parsed.error) }) },
    );
  return parsed.data;
};
