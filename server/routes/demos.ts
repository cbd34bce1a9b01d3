import type { Handler } from 'hono';
import type { DemoAnswer, DemoList } from '../contracts/answers.ts';
import type { Demos } from '../demos.ts';
import { Refusal } from '../refusal.ts';

/** GET /api/demos: which demo strips there are. */
export const listDemos =
  (demos: Demos): Handler =>
  (c) => {
    const answer: DemoList = { demos: demos.list() };
    return c.json(answer);
  };

const unknownDemo = (): never => {
  throw new Refusal('not-found', 'There is no demo of this name.');
};

/** GET /api/demos/:id: one demo strip as the pipeline reads it. */
export const getDemo =
  (demos: Demos): Handler =>
  async (c) => {
    const answer: DemoAnswer = (await demos.read(c.req.param('id') ?? '')) ?? unknownDemo();
    return c.json(answer);
  };

/** GET /api/demos/:id/photo: the demo's photo as it was taken. */
export const getDemoPhoto =
  (demos: Demos): Handler =>
  async (c) => {
    const photo = (await demos.photo(c.req.param('id') ?? '')) ?? unknownDemo();
    return c.body(new Uint8Array(photo), 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=3600',
    });
  };
