import type { z } from 'zod';

/** The first thing wrong with a parsed value, with its place: `steps[2].seconds: expected number`. */
export const firstIssue = (error: z.ZodError): string => {
  const issue = error.issues[0];
  const place = issue.path
    .map((part) => (typeof part === 'number' ? `[${part}]` : `.${String(part)}`))
    .join('');
  const message = issue.message.replace(/^Invalid input: (.*), received undefined$/, 'missing, $1');
  return place ? `${place.replace(/^\./, '')}: ${message}` : message;
};
