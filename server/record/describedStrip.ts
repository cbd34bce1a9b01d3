import { AnalysisError } from '../../analysis/errors.ts';
import { firstIssue, issueOf } from '../../analysis/firstIssue.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { phrase } from '../../analysis/phrases.ts';
import { type StripDescription, stripDescription } from '../contracts/strip.ts';

/** The strip as it was described, names filled in where they were left out. @throws AnalysisError `strip-invalid`, `card-invalid`. */
export const describedStrip = (json: unknown): StripDescription => {
  if (json === undefined)
    throw new AnalysisError('strip-invalid', 'The strip is missing: describe card and steps as JSON.', {
      phrase: phrase('strip-missing', {}),
    });
  parseStrip(json);
  const described = stripDescription.safeParse({ dye: '', cloth: '', light: '', ...(json as object) });
  if (described.success) return described.data;
  throw new AnalysisError('strip-invalid', `The strip can't be used: ${firstIssue(described.error)}.`, {
    phrase: phrase('strip-unreadable', { issue: issueOf(described.error) }),
  });
};
