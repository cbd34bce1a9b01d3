import { describe, expect, it } from 'vitest';
import type { LookAnswer } from '../../server/contracts/look.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import { createLooker, type LookWish } from '../../web/look.ts';
import { sourceOf } from '../../web/stripPhotos.ts';

const strip = { dye: '', cloth: '', light: '', card: 'grey-18', steps: [{ seconds: 60 }] } as const;
const source = sourceOf(new Blob(['kelp']));

/** Marks whose first step stands at x. */
const at = (x: number): LookWish => {
  const marks: Marks = {
    card: [],
    steps: [
      {
        seconds: 60,
        quad: [
          [x, 0],
          [x + 9, 0],
          [x + 9, 9],
          [x, 9],
        ],
        origin: 'hand',
        confidence: 1,
      },
    ],
  };
  return { photos: [{ source, marks }], strip };
};
const placeOf = ([{ marks }]: LookWish['photos']): number => marks.steps[0].quad[0][0];

/** A server that answers when it is told to, with L* equal to the place of the step. */
const slowServer = () => {
  const asked: number[] = [];
  const answers: (() => void)[] = [];
  const fails: ((error: Error) => void)[] = [];
  let busiest = 0;
  let open = 0;
  const ask = (photos: LookWish['photos']): Promise<LookAnswer> => {
    const L = placeOf(photos);
    asked.push(L);
    open += 1;
    busiest = Math.max(busiest, open);
    return new Promise((settle, fail) => {
      answers.push(() => {
        open -= 1;
        settle({ steps: [{ seconds: 60, L, a: 0, b: 0, uL: 1 }] });
      });
      fails.push((error) => {
        open -= 1;
        fail(error);
      });
    });
  };
  return { asked, answers, fails, ask: ask as Parameters<typeof createLooker>[0], busiest: () => busiest };
};
const settled = () => new Promise((done) => setTimeout(done));

describe('looking at steps while marks are moved', () => {
  it('asks for the first and the newest of 5 places, one question at a time', async () => {
    const server = slowServer();
    const { steps, look } = createLooker(server.ask);
    for (const x of [1, 2, 3, 4, 5]) look(at(x));
    expect(server.asked).toEqual([1]);
    server.answers[0]();
    await settled();
    expect(steps.value?.[0].L).toBe(1);
    expect(server.asked).toEqual([1, 5]);
    server.answers[1]();
    await settled();
    expect(steps.value?.[0].L).toBe(5);
    expect(server.busiest()).toBe(1);
    look(at(6));
    expect(server.asked).toEqual([1, 5, 6]);
  });

  it('shows nothing for marks that can’t be read, and goes on with the next', async () => {
    const server = slowServer();
    const { steps, look } = createLooker(server.ask);
    look(at(1));
    server.answers[0]();
    await settled();
    look(at(2));
    server.fails[1](new Error('too small'));
    await settled();
    expect(steps.value).toBeNull();
    look(at(3));
    server.answers[2]();
    await settled();
    expect(steps.value?.[0].L).toBe(3);
  });

  it('asks and shows nothing more once it is stopped', async () => {
    const server = slowServer();
    const { steps, look, stop } = createLooker(server.ask);
    look(at(1));
    look(at(2));
    stop();
    server.answers[0]();
    await settled();
    expect([steps.value, server.asked]).toEqual([null, [1]]);
  });
});
