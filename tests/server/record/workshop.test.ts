import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { errorAnswer } from '../../../server/contracts/errors.ts';
import { type KeptReading, keptReading } from '../../../server/contracts/recordReadings.ts';
import type { Book } from '../../../server/record/book.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../../helpers/serverUnderTest.ts';
import { temporaryBook } from '../../helpers/temporaryBook.ts';

const hemp = demoFiles('hemp-banner-blue');
const JSON_TYPE = { 'content-type': 'application/json' };
const HALF = '{"kind":"depth","percent":50}';

let book: Book;
let server: ReturnType<typeof serverUnderTest>;
beforeAll(() => {
  book = temporaryBook(directAnalyst);
  server = serverUnderTest(directAnalyst, book);
});
afterAll(() => book.close());

const send = (fields: Readonly<Record<string, string>>): Promise<Response> =>
  server.post(
    '/api/record/readings',
    formOf({ photo: hemp.photo, strip: hemp.strip, marks: hemp.marks, target: HALF, ...fields }),
  );
const keep = async (fields: Readonly<Record<string, string>> = {}): Promise<KeptReading> =>
  keptReading.parse(await (await send(fields)).json());
const again = async (id: string, changes: object): Promise<KeptReading> =>
  keptReading.parse(
    await (await server.post(`/api/record/readings/${id}/again`, JSON.stringify(changes), JSON_TYPE)).json(),
  );
const fullSteps = ({ reading }: KeptReading): number =>
  reading.steps.filter(({ verdict }) => verdict === 'full-depth' || verdict === 'overexposed').length;

describe('a reading kept by a workshop with a timer of 45 s steps, to which 20 L* short of the deepest is full', () => {
  const WORKSHOP = { timerStepSeconds: '45', verdictSettings: '{"fullWithinL":20}' };

  it('has its time in steps of 45 s and more full steps than usual, and the book says by which settings', async () => {
    const [usual, own] = [await keep(), await keep(WORKSHOP)];
    expect((own.line.roundedSeconds ?? 1) % 45).toBe(0);
    expect((usual.line.roundedSeconds ?? 0) % 45).not.toBe(0);
    expect(fullSteps(own)).toBeGreaterThan(fullSteps(usual));
    expect(own.settings.options).toEqual({ timerStepSeconds: 45, verdictSettings: { fullWithinL: 20 } });
    expect(usual.settings.options).toBeUndefined();
  });

  it('is read again by the same settings, and by others where others are given', async () => {
    const own = await keep(WORKSHOP);
    const same = await again(own.line.id, {});
    expect(same.reading).toEqual(own.reading);
    expect(same.settings.options).toEqual(own.settings.options);
    const other = await again(same.line.id, { options: { timerStepSeconds: 7 } });
    expect((other.line.roundedSeconds ?? 1) % 7).toBe(0);
    expect(fullSteps(other)).toBeLessThan(fullSteps(own));
    const usual = await again(other.line.id, { options: {} });
    expect(usual.settings.options).toBeUndefined();
    expect(usual.reading).toEqual((await keep()).reading);
  });
});

it.each([{ timerStepSeconds: '0' }, { verdictSettings: '{"fullWithinL":-1}' }, { timerStepSeconds: 'soon' }])(
  'settings %j are refused with 400 and nothing is kept',
  async (fields) => {
    const answer = await send(fields);
    expect(answer.status).toBe(400);
    expect(errorAnswer.parse(await answer.json()).error.code).toBe('request-invalid');
  },
);
