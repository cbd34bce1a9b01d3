import type { z } from 'zod';
import type { Issue } from './refusals.ts';

const placeOf = (path: readonly PropertyKey[]): string =>
  path
    .map((part) => (typeof part === 'number' ? `[${part}]` : `.${String(part)}`))
    .join('')
    .replace(/^\./, '');

/** The first thing wrong with a parsed value, with its place: `steps[2].seconds: expected number`. */
export const firstIssue = (error: z.ZodError): string => {
  const issue = error.issues[0];
  const place = placeOf(issue.path);
  const message = issue.message.replace(/^Invalid input: (.*), received undefined$/, 'missing, $1');
  return place ? `${place}: ${message}` : message;
};

/** The same for other languages: without its words. */
export const issueOf = (error: z.ZodError): Issue => {
  const issue = error.issues[0];
  const place = placeOf(issue.path);
  switch (issue.code) {
    case 'invalid_type':
      return {
        place,
        wrong: / received undefined$/.test(issue.message) ? 'missing' : 'kind',
        expected: issue.expected,
      };
    case 'too_small':
      return { place, wrong: 'least', expected: Number(issue.minimum) };
    case 'too_big':
      return { place, wrong: 'most', expected: Number(issue.maximum) };
    case 'invalid_value':
      return { place, wrong: 'choice', expected: issue.values.map(String) };
    case 'unrecognized_keys':
      return { place, wrong: 'unknown', expected: issue.keys };
    default:
      return { place, wrong: 'other', expected: null };
  }
};
