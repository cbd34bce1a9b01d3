import { describe, expect, it } from 'vitest';
import { comparisonAnswer } from '../../server/contracts/comparison.ts';
import { driftAnswer } from '../../server/contracts/drift.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { evennessAnswer } from '../../server/contracts/evenness.ts';
import { planAnswer } from '../../server/contracts/plan.ts';
import { transferAnswer } from '../../server/contracts/transfer.ts';
import { INDIGO, knownL } from '../analysis/across/knownCurve.ts';
import { serverUnderTest } from '../helpers/serverUnderTest.ts';
import { answerOf, knownReading, scratch } from './commands/readingFile.ts';

const server = serverUnderTest();
const file = scratch();
const indigo = knownReading();
const slower = knownReading({ ...INDIGO, halfSeconds: 240 }, 'slow indigo');
const indigoFile = file('indigo.json', indigo);

const ask = (path: string, body: unknown, headers: Record<string, string> = {}) =>
  server.post(path, typeof body === 'string' ? body : JSON.stringify(body), {
    'content-type': 'application/json',
    ...headers,
  });
const refusalOf = async (response: Response) => ({
  status: response.status,
  ...errorAnswer.parse(await response.json()).error,
});
const scrapAt = (seconds: number, halfSeconds: number) => ({
  seconds,
  L: knownL({ ...INDIGO, halfSeconds }, seconds),
  uL: 0.4,
});

/** Every question with a body that is answered. */
const bodies = {
  '/api/plans': { start: { kind: 'curve', target: { kind: 'full' } }, curve: indigo, light: 'tubes' },
  '/api/comparisons': { readings: [indigo, slower] },
  '/api/transfers': { curve: indigo, scraps: [scrapAt(120, 240)] },
  '/api/drifts': {
    records: Array.from({ length: 9 }, (_, i) => ({
      date: `2026-05-0${i + 1}`,
      setup: 'tubes 1',
      shiftStops: 0.02 * (i % 3),
    })),
  },
  '/api/evenness/cells': { curve: indigo, cells: Array.from({ length: 4 }, () => [59, 59, 59, 59]) },
} as const;

const contracts = {
  '/api/plans': planAnswer,
  '/api/comparisons': comparisonAnswer,
  '/api/transfers': transferAnswer,
  '/api/drifts': driftAnswer,
  '/api/evenness/cells': evennessAnswer,
} as const;

describe('questions without a photo', () => {
  it.each(Object.keys(bodies) as (keyof typeof bodies)[])(
    'POST %s answers in the form of its contract, nothing left out of it',
    async (path) => {
      const response = await ask(path, bodies[path]);
      const body = await response.json();
      expect(response.status).toBe(200);
      expect(contracts[path].parse(body)).toEqual(body);
      expect(response.headers.get('cache-control')).toBe('no-store');
    },
  );

  it('plans what the command line plans: thirds of a stop from 4 min, and from a kept reading', async () => {
    const start = { kind: 'equal-stop', firstSeconds: 240, stopsPerStep: 1 / 3, count: 7 };
    const { plan } = await (await ask('/api/plans', { start, light: 'led' })).json();
    expect(plan).toEqual(
      await answerOf('plan', '--first', '4:00', '--stops', '1/3', '--count', '7', '--light', 'led'),
    );
    const kept = await (await ask('/api/plans', { start: { kind: 'curve' }, curve: indigo })).json();
    expect(kept.plan).toEqual(await answerOf('plan', '--curve', indigoFile));
  });

  it('with nothing said plans seven steps one stop apart from 30 s', async () => {
    const { plan } = await (await ask('/api/plans', {})).json();
    expect(plan.steps.map((step: { seconds: number }) => step.seconds)).toEqual([
      0, 30, 60, 120, 240, 480, 960, 1920,
    ]);
  });

  it('compares as the command line does: one stop slower at 50 % depth', async () => {
    const { comparison } = await (await ask('/api/comparisons', bodies['/api/comparisons'])).json();
    expect(comparison).toEqual(await answerOf('compare', indigoFile, file('slow.json', slower)));
    expect(comparison.pairs[0].differences[0].difference.value).toBeCloseTo(-1, 6);
  });

  it('restates times as the command line does: a scrap under half the light doubles them', async () => {
    const { transfer } = await (await ask('/api/transfers', bodies['/api/transfers'])).json();
    const { seconds, L, uL } = scrapAt(120, 240);
    expect(transfer).toEqual(
      await answerOf('transfer', '--curve', indigoFile, '--scrap', `${seconds}=${L}±${uL}`),
    );
    expect(transfer.timeFactor.value).toBeCloseTo(2, 6);
  });

  it('charts readings of controls as it charts their shifts', async () => {
    const controls = Array.from({ length: 8 }, () => slower);
    const { drift } = await (await ask('/api/drifts', { controls, curve: indigo })).json();
    expect(drift.kind).toBe('chart');
    expect(drift.individuals.mean).toBeCloseTo(-1, 1);
  });

  it('maps cells as the command line does', async () => {
    const cells = file('cells.json', { cells: bodies['/api/evenness/cells'].cells });
    const { evenness } = await (await ask('/api/evenness/cells', bodies['/api/evenness/cells'])).json();
    expect(evenness).toEqual(await answerOf('evenness', cells, '--curve', indigoFile));
  });

  it('names dyes as it is told', async () => {
    const { comparison } = await (
      await ask('/api/comparisons', { readings: [indigo, indigo], names: ['first', 'second'] })
    ).json();
    expect(comparison.dyes.map((dye: { name: string }) => dye.name)).toEqual(['first', 'second']);
  });

  it.each([
    ['/api/plans', { start: { kind: 'curve' } }, 'request-invalid', /needs a reading/],
    ['/api/plans', { start: { kind: 'guess' } }, 'request-invalid', /start/],
    ['/api/plans', { lihgt: 'tubes' }, 'request-invalid', /lihgt/],
    ['/api/plans', { start: { kind: 'nothing', count: 1 } }, 'plan-invalid', /at least two/],
    ['/api/plans', { start: { kind: 'times', seconds: [60, 60] } }, 'plan-invalid', /twice/],
    ['/api/comparisons', { readings: [indigo] }, 'request-invalid', /readings/],
    ['/api/comparisons', { readings: [indigo, { curve: 1 }] }, 'request-invalid', /"readings\[1\]" is not/],
    ['/api/comparisons', { readings: [indigo, indigo], names: ['a', 'a'] }, 'comparison-invalid', /name/],
    ['/api/transfers', { curve: indigo }, 'request-invalid', /[Ss]craps are missing/],
    ['/api/transfers', { curve: { ...indigo, curve: {} }, scraps: [] }, 'request-invalid', /"curve" is not/],
    ['/api/drifts', {}, 'request-invalid', /"records" or "controls"/],
    ['/api/drifts', { controls: [indigo] }, 'request-invalid', /curve/],
    ['/api/evenness/cells', { curve: indigo, cells: [[60]] }, 'comparison-invalid', /3 to 60 rows/],
    ['/api/evenness/cells', { cells: [[60]] }, 'request-invalid', /curve/],
  ] as const)('POST %s refuses %j as %s', async (path, body, code, why) => {
    const refused = await refusalOf(await ask(path, body));
    expect(refused).toMatchObject({ status: 400, code });
    expect(refused.message).toMatch(why);
  });

  it('refuses what is no JSON, and JSON under another name', async () => {
    expect(await refusalOf(await ask('/api/plans', '{"start": '))).toMatchObject({
      status: 400,
      code: 'request-invalid',
    });
    expect(await refusalOf(await ask('/api/plans', '{}', { 'content-type': 'text/plain' }))).toMatchObject({
      status: 400,
      code: 'request-invalid',
    });
  });
});
