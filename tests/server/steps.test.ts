import { beforeAll, describe, expect, it } from 'vitest';
import { previewAnswer, type ReadingAnswer, readingAnswer } from '../../server/contracts/answers.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { lookAnswer } from '../../server/contracts/look.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import { demoFiles, formOf, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const hemp = demoFiles('hemp-banner-blue');
const strip = JSON.parse(hemp.strip);
const byHand = <T>(mark: T): T => ({ ...mark, origin: 'hand', confidence: 1 });
const truth: Marks = JSON.parse(hemp.marks);
const marks: Marks = { card: truth.card.map(byHand), steps: truth.steps.map(byHand) };
const UNKNOWN = '0123456789abcdef0123456789abcdef';

/** The same marks with one step's quad moved by so many pixels. */
const moved = (index: number, [dx, dy]: readonly [number, number]): Marks => ({
  ...marks,
  steps: marks.steps.map((step, i) =>
    i === index
      ? { ...step, quad: step.quad.map(([x, y]) => [x + dx, y + dy]) as unknown as typeof step.quad }
      : step,
  ),
});

const json = { 'content-type': 'application/json' };
const ask = (question: unknown) => server.post('/api/steps', JSON.stringify(question), json);
const refusalOf = async (response: Response) => ({
  status: response.status,
  code: errorAnswer.parse(await response.json()).error.code,
});

let key: string;
let whole: ReadingAnswer;

beforeAll(async () => {
  const preview = await server.post('/api/previews', formOf({ photo: hemp.photo }));
  key = previewAnswer.parse(await preview.json()).preview.photoKey ?? '';
  const response = await server.post('/api/readings', formOf(hemp));
  whole = readingAnswer.parse(await response.json());
}, 60_000);

describe('POST /api/steps', () => {
  it('answers the L* and u(L*) that the whole reading has under the same marks', async () => {
    const response = await ask({ photos: [{ key, marks }], strip });
    expect(response.status).toBe(200);
    const { steps } = lookAnswer.parse(await response.json());
    expect(steps).toEqual(whole.reading.steps.map(({ seconds, L, a, b, uL }) => ({ seconds, L, a, b, uL })));
  });

  it('answers another L* once a step is moved onto its neighbour', async () => {
    const [from, to] = [2, 3].map((i) => marks.steps[i].quad[0]);
    const half: readonly [number, number] = [(to[0] - from[0]) / 2, (to[1] - from[1]) / 2];
    const { steps } = lookAnswer.parse(
      await (await ask({ photos: [{ key, marks: moved(2, half) }], strip })).json(),
    );
    expect(Math.abs(steps[2].L - whole.reading.steps[2].L)).toBeGreaterThan(0.5);
  });

  it('puts several photos of a strip together as a reading does', async () => {
    const shifted = moved(2, [6, 0]);
    const form = formOf({ ...hemp, also: hemp.photo, alsoMarks: JSON.stringify([shifted]) });
    const { reading } = readingAnswer.parse(await (await server.post('/api/readings', form)).json());
    const answer = await ask({
      photos: [
        { key, marks },
        { key, marks: shifted },
      ],
      strip,
    });
    const { steps } = lookAnswer.parse(await answer.json());
    expect(steps.map(({ L }) => L)).toEqual(reading.steps.map(({ L }) => L));
  });

  it.each([
    [410, 'photo-forgotten', { photos: [{ key: UNKNOWN, marks }], strip }],
    [400, 'request-invalid', { photos: [{ key: '../etc', marks }], strip }],
    [400, 'request-invalid', { photos: [], strip }],
    [400, 'request-invalid', { strip }],
  ] as const)('refuses with %i %s what it can not use', async (status, code, question) => {
    expect(await refusalOf(await ask(question))).toEqual({ status, code });
  });

  it('refuses marks beside the photo with what is wrong', async () => {
    expect((await refusalOf(await ask({ photos: [{ key, marks: moved(2, [9e4, 0]) }], strip }))).code).toBe(
      'marks-outside-photo',
    );
  });
});

describe('POST /api/readings with the key of a photo that came before', () => {
  const byKey = (fields: Readonly<Record<string, string>>) =>
    server.post('/api/readings', formOf({ strip: hemp.strip, marks: hemp.marks, ...fields }));

  it('reads the same as with the photo itself', async () => {
    const response = await byKey({ photoKey: JSON.stringify(key) });
    expect(response.status).toBe(200);
    expect(readingAnswer.parse(await response.json())).toEqual(whole);
  });

  it('reads further photos by their keys, each with its own marks', async () => {
    const shifted = moved(2, [6, 0]);
    const sent = await server.post(
      '/api/readings',
      formOf({ ...hemp, also: hemp.photo, alsoMarks: JSON.stringify([shifted]) }),
    );
    const named = await byKey({
      photoKey: JSON.stringify(key),
      alsoKeys: JSON.stringify([key]),
      alsoMarks: JSON.stringify([shifted]),
    });
    const { reading } = readingAnswer.parse(await named.json());
    expect(reading).toEqual(readingAnswer.parse(await sent.json()).reading);
    expect(reading.furtherMarks?.[0].steps[2].quad).toEqual(shifted.steps[2].quad);
  });

  it('is refused once the photo is forgotten, so that it is sent again', async () => {
    expect(await refusalOf(await byKey({ photoKey: JSON.stringify(UNKNOWN) }))).toEqual({
      status: 410,
      code: 'photo-forgotten',
    });
    expect(await refusalOf(await byKey({ photoKey: JSON.stringify('kelp') }))).toEqual({
      status: 400,
      code: 'request-invalid',
    });
  });

  it('is refused where further photos come both ways', async () => {
    const form = formOf({
      strip: hemp.strip,
      photoKey: JSON.stringify(key),
      also: hemp.photo,
      alsoKeys: JSON.stringify([key]),
    });
    expect((await refusalOf(await server.post('/api/readings', form))).code).toBe('request-invalid');
  });
});
