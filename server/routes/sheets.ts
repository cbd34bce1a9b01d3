import type { Context, Handler } from 'hono';
import { z } from 'zod';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { type SheetRequest, sheetRequest } from '../contracts/sheets.ts';
import { sheetPdf } from '../papers/sheetPdf.ts';
import { readJson } from '../readJson.ts';
import { Refusal } from '../refusal.ts';
import { spokenLanguage } from '../spokenLanguage.ts';

const parsed = (given: unknown): SheetRequest => {
  const request = sheetRequest.safeParse(given);
  if (request.success) return request.data;
  throw new Refusal('request-invalid', `The sheet can't be made: ${firstIssue(request.error)}.`);
};

const answer = async (c: Context, { plan, language: named, ...rest }: SheetRequest): Promise<Response> => {
  const language = spokenLanguage(c, named);
  const pdf = await sheetPdf({ ...rest, language, plan: plan ?? null });
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
export const getSheet: Handler = (c) => {
  const { seconds, ...query } = c.req.query();
  return answer(
    c,
    parsed({ ...query, ...(seconds !== undefined && { seconds: secondsText.parse(seconds) }) }),
  );
};

/** POST /api/sheets: the same from a JSON body. */
export const postSheet: Handler = async (c) => answer(c, parsed(await readJson(c)));
