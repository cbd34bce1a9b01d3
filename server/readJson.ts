import type { Context } from 'hono';
import { DEEPEST_JSON, jsonBeyond, MOST_VALUES } from './jsonSize.ts';
import { Refusal } from './refusal.ts';

/** Questions about hundreds of kept readings have a few megabytes; what is read here is read on the thread that answers. */
export const MOST_JSON_MB = 16;
const MOST_JSON_BYTES = MOST_JSON_MB * 1_000_000;

const tooLarge = (): Refusal =>
  new Refusal(
    'upload-too-large',
    `A request of this kind may have up to ${MOST_JSON_MB} MB. Ask about fewer readings at a time.`,
  );

const bodyText = async (c: Context): Promise<string> => {
  if (Number(c.req.header('content-length') ?? 0) > MOST_JSON_BYTES) throw tooLarge();
  const parts: Uint8Array[] = [];
  let bytes = 0;
  for await (const part of (c.req.raw.body ?? []) as AsyncIterable<Uint8Array>) {
    bytes += part.byteLength;
    if (bytes > MOST_JSON_BYTES) throw tooLarge();
    parts.push(part);
  }
  return new TextDecoder().decode(Buffer.concat(parts));
};

/** JSON text from outside as a value. @throws Refusal `request-invalid`, `upload-too-large`. */
export const parseJson = (text: string, what: string, mostValues = MOST_VALUES): unknown => {
  const beyond = jsonBeyond(text, mostValues);
  if (beyond === 'many')
    throw new Refusal(
      'upload-too-large',
      `${what} holds more than ${mostValues} values; nothing needs so many.`,
    );
  if (beyond === 'deep')
    throw new Refusal('request-invalid', `${what} nests deeper than ${DEEPEST_JSON} levels.`);
  try {
    return JSON.parse(text);
  } catch {
    throw new Refusal('request-invalid', `${what} is not JSON.`);
  }
};

/** The JSON of a request's body. @throws Refusal `request-invalid` where it is something else, `upload-too-large`. */
export const readJson = async (c: Context, mostValues = MOST_VALUES): Promise<unknown> => {
  const type = c.req.header('content-type') ?? '';
  if (!/^application\/([\w.-]+\+)?json\b/i.test(type))
    throw new Refusal('request-invalid', 'Send the request as JSON, with Content-Type application/json.');
  let text: string;
  try {
    text = await bodyText(c);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal('request-invalid', 'The request broke off. Send it again.');
  }
  return parseJson(text, 'The body of the request', mostValues);
};
