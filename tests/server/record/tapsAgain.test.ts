import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { keptReading } from '../../../server/contracts/recordReadings.ts';
import { createBook } from '../../../server/record/book.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../../helpers/serverUnderTest.ts';

const hemp = demoFiles('hemp-banner-blue');
const folder = mkdtempSync(join(tmpdir(), 'tonestep-taps-'));
const book = createBook({ folder, analyst: directAnalyst });
const server = serverUnderTest(directAnalyst, book);

afterAll(async () => {
  await book.close();
  rmSync(folder, { recursive: true, force: true });
});

const { card, steps } = JSON.parse(hemp.marks) as Record<'card' | 'steps', { quad: [number, number][] }[]>;
const middle = (quad: readonly [number, number][]) => [0, 1].map((i) => (quad[0][i] + quad[2][i]) / 2);
const byHand = <T>(mark: T): T => ({ ...mark, origin: 'hand', confidence: 1 });
const handMarks = { card: card.map(byHand), steps: steps.map(byHand) };
const taps = { card: middle(card[0].quad), strip: middle(steps[2].quad) };

const keep = async (fields: Readonly<Record<string, unknown>>) => {
  const form = formOf({ photo: hemp.photo, strip: hemp.strip });
  for (const [name, value] of Object.entries({ ...fields, context: { confirmed: true } }))
    form.set(name, JSON.stringify(value));
  return keptReading.parse(await (await server.post('/api/record/readings', form)).json());
};
const again = async (id: string, changes: unknown) => {
  const answer = await server.post(`/api/record/readings/${id}/again`, JSON.stringify(changes), {
    'content-type': 'application/json',
  });
  return { status: answer.status, body: await answer.json() };
};

describe('a kept reading, read again', () => {
  it('uses the taps that it was found with', async () => {
    const first = await keep({ taps });
    const { body } = await again(first.line.id, { confirmed: true });
    const second = keptReading.parse(body);
    expect(second.settings.taps).toEqual(taps);
    expect(second.reading).toEqual(first.reading);
  });

  it('is looked through anew where a person taps, whatever its marks were', async () => {
    const first = await keep({ marks: handMarks });
    const { body } = await again(first.line.id, { taps, confirmed: true });
    const second = keptReading.parse(body);
    expect(second.settings).toMatchObject({ taps, marks: null });
    expect(second.reading.marks.card[0].origin).toBe('free-form');
  });

  it('goes by marks that are given anew, and by its old taps no more', async () => {
    const first = await keep({ taps });
    const { body } = await again(first.line.id, { marks: handMarks });
    const second = keptReading.parse(body);
    expect(second.settings.taps).toBeUndefined();
    expect(second.settings.marks).toEqual(handMarks);
  });

  it('refuses marks and taps at once, and a tap that is none', async () => {
    const first = await keep({ taps });
    expect(await again(first.line.id, { taps, marks: handMarks })).toMatchObject({
      status: 400,
      body: { error: { code: 'request-invalid' } },
    });
    expect(await again(first.line.id, { taps: { card: [1] } })).toMatchObject({ status: 400 });
    expect(await again(first.line.id, { taps: { card: [9e5, 1] } })).toMatchObject({
      status: 422,
      body: { error: { code: 'marks-outside-photo' } },
    });
  });
});
