import type { Context } from 'hono';
import type { z } from 'zod';
import { firstIssue, issueOf } from '../analysis/firstIssue.ts';
import { phrase } from '../analysis/phrases.ts';
import { readJson } from './readJson.ts';
import { Refusal } from './refusal.ts';

/** A value by its contract. @throws Refusal `request-invalid`, with the place of what is wrong. */
export const parsedBy = <S extends z.ZodType>(shape: S, given: unknown): z.output<S> => {
  const parsed = shape.safeParse(given);
  if (parsed.success) return parsed.data;
  throw new Refusal('request-invalid', `The request can't be used: ${firstIssue(parsed.error)}.`, {
    phrase: phrase('request-unfit', { issue: issueOf(parsed.error) }),
  });
};

export const queryBy = <S extends z.ZodType>(c: Context, shape: S): z.output<S> =>
  parsedBy(shape, c.req.query());

export const bodyBy = async <S extends z.ZodType>(c: Context, shape: S): Promise<z.output<S>> =>
  parsedBy(shape, await readJson(c));
