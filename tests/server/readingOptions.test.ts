import { randomUUID } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { samplePaperScene } from '../../fixtures/paper.ts';
import { photographPaper } from '../../fixtures/paperPhoto.ts';
import { previewAnswer, readingAnswer } from '../../server/contracts/answers.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { plan as recordPlan } from '../../server/contracts/recordThings.ts';
import { hasPdftoppm, printedSheet } from '../helpers/printedSheet.ts';
import { demoFiles, formOf, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const { photo, strip, marks } = demoFiles('hemp-banner-blue');
const rendered = await hasPdftoppm();

const read = async (more: Readonly<Record<string, string | Uint8Array>>) => {
  const response = await server.post('/api/readings', formOf({ photo, strip, marks, ...more }));
  return readingAnswer.parse(await response.json()).reading;
};
const refused = async (more: Readonly<Record<string, string | Uint8Array>>) => {
  const response = await server.post('/api/readings', formOf({ photo, strip, marks, ...more }));
  const { error } = errorAnswer.parse(await response.json());
  return { status: response.status, code: error.code };
};

describe('POST /api/readings with settings of the workshop', () => {
  it('rounds the time to what a timer of 45 s steps can set', async () => {
    const { advice } = await read({ timerStepSeconds: '45', target: '{"kind":"depth","percent":50}' });
    expect(advice.roundedSeconds).toBeGreaterThan(0);
    expect((advice.roundedSeconds ?? 1) % 45).toBe(0);
  });

  it('calls more steps full where 20 L* short of the deepest counts as full', async () => {
    const full = (reading: Awaited<ReturnType<typeof read>>) =>
      reading.steps.filter(({ verdict }) => verdict === 'full-depth' || verdict === 'overexposed').length;
    const wide = await read({ verdictSettings: '{"fullWithinL":20}' });
    expect(full(wide)).toBeGreaterThan(full(await read({})));
  });

  it('reads a second photo of the strip with it: their agreement is in the reading', async () => {
    const { repeatability } = await read({ also: photo, alsoMarks: `[${marks}]` });
    expect(repeatability?.photos).toBe(2);
  });

  it.each([
    [{ timerStepSeconds: '0' }, 'request-invalid'],
    [{ verdictSettings: '{"fullWithinL":-1}' }, 'request-invalid'],
    [{ verdictSettings: '{"depth":3}' }, 'request-invalid'],
    [{ alsoMarks: `[${marks}]` }, 'request-invalid'],
  ] as const)('refuses %j with 400', async (more, code) => {
    expect(await refused(more)).toEqual({ status: 400, code });
  });
});

describe('a plan that was printed on a sheet', () => {
  it('is kept under the id that the sheet bears, once', async () => {
    const id = randomUUID();
    const body = JSON.stringify({ id, name: 'hemp', seconds: [0, 30, 60], plan: {} });
    const headers = { 'Content-Type': 'application/json' };
    const made = await server.post('/api/record/plans', body, headers);
    expect(made.status).toBe(201);
    expect(recordPlan.parse(await made.json()).id).toBe(id);
    const again = await server.post('/api/record/plans', body, headers);
    expect(errorAnswer.parse(await again.json()).error.code).toBe('book-conflict');
  });

  it.skipIf(!rendered)(
    'is named by the answer to its photo, before card or times are known',
    async () => {
      const id = randomUUID();
      const page = await printedSheet('a4', id);
      const scene = await photographPaper(
        samplePaperScene(40_020, page, {
          card: 'white-grey-black',
          pieces: 'contiguous',
          reach: 'usual',
          widthPx: 1600,
          heightPx: 1200,
        }),
        page,
      );
      const response = await server.post('/api/previews', formOf({ photo: scene.bytes }));
      expect(previewAnswer.parse(await response.json()).preview.planId).toBe(id);
    },
    60_000,
  );

  it('is not named by a photo without a sheet', async () => {
    const response = await server.post('/api/previews', formOf({ photo }));
    const { preview } = previewAnswer.parse(await response.json());
    expect('planId' in preview).toBe(false);
  });
});
