import type { Context, Handler } from 'hono';
import { z } from 'zod';
import { firstIssue, issueOf } from '../../analysis/firstIssue.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { Analyst } from '../analyst.ts';
import { type SheetRequest, sheetRequest } from '../contracts/sheets.ts';
import { readJson } from '../readJson.ts';
import { Refusal } from '../refusal.ts';
import { spokenLanguage } from '../spokenLanguage.ts';

const parsed = (given: unknown): SheetRequest => {
  const request = sheetRequest.safeParse(given);
  if (request.success) return request.data;
  throw new Refusal('request-invalid', `The sheet can't be made: ${firstIssue(request.error)}.`, {
    phrase: phrase('request-unfit', { issue: issueOf(request.error) }),
  });
};

type Papers = Pick<Analyst, 'paper'>;

const answer = async (
  c: Context,
  analyst: Papers,
  { plan, language: named, ...rest }: SheetRequest,
): Promise<Response> => {
  const language = spokenLanguage(c, named);
  const sheet = { ...rest, language, plan: plan ?? null };
  const pdf = await analyst.paper({ kind: 'sheet', sheet }, c.req.raw.signal);
  return c.body(new Uint8Array(pdf), 200, {
    'Content-Type': 'application/pdf',
    'Content-Language': language,
    Vary: 'Accept-Language',
    'Content-Disposition': `inline; filename="measuring-sheet-${rest.paper}.pdf"`,
  });
};

const secondsText = z.string().transform((text) =>
  text
    .split(',')
    .filter((part) => part.trim() !== '')
    .map(Number),
);

/** GET /api/sheets?paper=a4&plan=ID&dye=…&seconds=0,8,16: the measuring sheet as a PDF, for a plain link. */
export const getSheet =
  (analyst: Papers): Handler =>
  (c) => {
    const { seconds, ...query } = c.req.query();
    const given = { ...query, ...(seconds !== undefined && { seconds: secondsText.parse(seconds) }) };
    return answer(c, analyst, parsed(given));
  };

/** POST /api/sheets: the same from a JSON body. */
export const postSheet =
  (analyst: Papers): Handler =>
  async (c) =>
    answer(c, analyst, parsed(await readJson(c)));
