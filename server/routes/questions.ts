import type { Handler } from 'hono';
import type { QuestionName } from '../across/questions.ts';
import type { Analyst } from '../analyst.ts';
import { readJson } from '../readJson.ts';

/** Values of a question about hundreds of kept readings; it is looked at on another thread. */
const MOST_VALUES = 400_000;

/** POST /api/plans, /api/comparisons, /api/transfers, /api/drifts, /api/evenness/cells: JSON in, JSON out. */
export const postQuestion =
  (analyst: Analyst, name: QuestionName): Handler =>
  async (c) =>
    c.json(await analyst.ask({ kind: 'ask', name, json: await readJson(c, MOST_VALUES) }, c.req.raw.signal));
