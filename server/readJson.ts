import type { Context } from 'hono';
import { Refusal } from './refusal.ts';

/** The JSON of a request's body. @throws Refusal `request-invalid` where it is something else. */
export const readJson = async (c: Context): Promise<unknown> => {
  const type = c.req.header('content-type') ?? '';
  if (!/^application\/([\w.-]+\+)?json\b/i.test(type))
    throw new Refusal('request-invalid', 'Send the request as JSON, with Content-Type application/json.');
  let text: string;
  try {
    text = await c.req.text();
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal('request-invalid', 'The request broke off. Send it again.');
  }
  try {
    return JSON.parse(text);
  } catch {
    throw new Refusal('request-invalid', 'The body of the request is not JSON.');
  }
};
