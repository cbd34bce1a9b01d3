import type { Handler } from 'hono';
import type { Analyst } from '../analyst.ts';
import { readForm } from '../formFields.ts';

const FIELDS = ['bed', 'marks', 'alsoMarks', 'curve', 'tolerancePercent', 'seed'] as const;

/**
 * POST /api/evenness: a form with the sheet's `photo`, JSON in `bed`, `marks` and `curve`, and where the sheet was
 * photographed once more turned end for end `also` and `alsoMarks`.
 */
export const postEvenness =
  (analyst: Analyst): Handler =>
  async (c) => {
    const form = await readForm(c);
    const photo = await form.photo();
    const also = await form.otherPhoto('also');
    const json = Object.fromEntries(
      FIELDS.flatMap((name) => {
        const value = form.json(name);
        return value === undefined ? [] : [[name, value]];
      }),
    );
    const photos = also === undefined ? [photo] : [photo, also];
    return c.json(await analyst.ask({ kind: 'ask', name: 'evenness', json, photos }, c.req.raw.signal));
  };
