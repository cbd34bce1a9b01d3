import { afterAll, beforeAll, expect, it } from 'vitest';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { ENDPOINTS } from '../../../server/contracts/endpoints.ts';
import { errorAnswer } from '../../../server/contracts/errors.ts';
import type { Book } from '../../../server/record/book.ts';
import { createBook } from '../../../server/record/book.ts';
import { demoFiles, directAnalyst, formOf, PORT, serverUnderTest } from '../../helpers/serverUnderTest.ts';
import { temporaryBook } from '../../helpers/temporaryBook.ts';

const hemp = demoFiles('hemp-banner-blue');
const host = `localhost:${PORT}`;
let book: Book;
let server: ReturnType<typeof serverUnderTest>;
let keptId = '';
let photo = '';
let use = { dyeId: '', clothId: '', lightId: '' };

const ask = async (method: string, path: string, body?: unknown) => {
  const form = body instanceof FormData;
  const answer = await server.app.request(`http://${host}${path}`, {
    method,
    headers: {
      host,
      origin: `http://${host}`,
      ...(body !== undefined && !form && { 'content-type': 'application/json' }),
    },
    ...(body !== undefined && { body: form ? body : JSON.stringify(body) }),
  });
  return { status: answer.status, body: await answer.json() };
};

beforeAll(async () => {
  const reading = await directAnalyst.read({
    kind: 'read',
    photo: hemp.photo,
    strip: parseStrip(JSON.parse(hemp.strip)),
    marks: parseMarks(JSON.parse(hemp.marks)),
  });
  const analyst = { ...directAnalyst, read: async () => reading };
  book = temporaryBook(analyst);
  server = serverUnderTest(analyst, book);
  const { body } = await ask('POST', '/api/record/readings', keepForm());
  keptId = body.line.id;
  photo = body.line.photo;
  use = { dyeId: body.line.dyeId, clothId: body.line.clothId, lightId: body.line.lightId };
});
afterAll(() => book.close());

const keepForm = () => formOf({ photo: hemp.photo, strip: hemp.strip, marks: hemp.marks });
const made = async (path: string, body: unknown): Promise<string> =>
  (await ask('POST', `/api/record/${path}`, body)).body.id;

/** What is asked at each address; what is sent is made anew for every call. */
const CALLS: readonly (readonly [
  method: 'get' | 'post' | 'patch',
  path: string,
  call: () => Promise<readonly [path: string, body?: unknown]>,
])[] = [
  ['get', '/api/health', async () => ['/api/health']],
  ['get', '/api/record', async () => ['/api/record']],
  ...(['dyes', 'cloths', 'lights', 'batches', 'cards', 'plans'] as const).flatMap((kind) => {
    const fields = {
      dyes: {},
      cloths: { remark: 'washed twice' },
      lights: { kind: 'sun' },
      batches: { mixedAt: '2026-05-29T12:00:00Z', dyeId: use.dyeId || null },
      cards: { card: { patches: [{ name: 'paper', Y: 0.85 }] } },
      plans: { seconds: [0, 30, 60], plan: { reason: 'wide' } },
    }[kind];
    let n = 0;
    const fresh = () => {
      n += 1;
      return { name: `${kind} ${n} ${Math.floor(performance.now() * 1000)}`, ...fields };
    };
    return [
      ['get', `/api/record/${kind}`, async () => [`/api/record/${kind}?away=true`]],
      ['post', `/api/record/${kind}`, async () => [`/api/record/${kind}`, fresh()]],
      [
        'patch',
        `/api/record/${kind}/{id}`,
        async () => [`/api/record/${kind}/${await made(kind, fresh())}`, { remark: 'changed' }],
      ],
    ] as (typeof CALLS)[number][];
  }),
  ['get', '/api/record/readings', async () => ['/api/record/readings?limit=5&text=hemp']],
  ['post', '/api/record/readings', async () => ['/api/record/readings', keepForm()]],
  ['get', '/api/record/readings/{id}', async () => [`/api/record/readings/${keptId}`]],
  [
    'post',
    '/api/record/readings/{id}/again',
    async () => [`/api/record/readings/${keptId}/again`, { target: { kind: 'L', L: 50 } }],
  ],
  ['get', '/api/record/photos/{sha256}/preview', async () => [`/api/record/photos/${photo}/preview`]],
  [
    'post',
    '/api/record/controls',
    async () => ['/api/record/controls', { againstId: keptId, scraps: [{ seconds: 120, L: 55, uL: 0.5 }] }],
  ],
  ['get', '/api/record/controls', async () => ['/api/record/controls']],
  [
    'post',
    '/api/record/prints',
    async () => ['/api/record/prints', { ...use, secondsUsed: 120, reachedL: 50, target: { kind: 'full' } }],
  ],
  ['get', '/api/record/prints', async () => [`/api/record/prints?dyeId=${use.dyeId}`]],
  [
    'patch',
    '/api/record/prints/{id}',
    async () => [
      `/api/record/prints/${await made('prints', { ...use, secondsUsed: 90 })}`,
      { reachedL: 51, reachedUL: 0.5 },
    ],
  ],
  [
    'post',
    '/api/record/notes',
    async () => ['/api/record/notes', { on: { kind: 'reading', id: keptId }, text: 'dry day' }],
  ],
  ['get', '/api/record/notes', async () => [`/api/record/notes?kind=reading&id=${keptId}`]],
  [
    'post',
    '/api/record/put-away',
    async () => [
      '/api/record/put-away',
      { kind: 'dye', id: await made('dyes', { name: crypto.randomUUID() }) },
    ],
  ],
  ['post', '/api/record/bring-back', async () => ['/api/record/bring-back', { kind: 'dye', id: use.dyeId }]],
  ['post', '/api/record/today', async () => ['/api/record/today', { ...use, lampHours: 5 }]],
  ['get', '/api/record/feedback', async () => ['/api/record/feedback']],
];

it.each(CALLS)('%s %s answers by its contract and nothing beyond it', async (method, path, call) => {
  const endpoint = ENDPOINTS.find((e) => e.method === method && e.path === path);
  const [asked, body] = await call();
  const answer = await ask(method.toUpperCase(), asked, body);
  expect(answer.status).toBe(endpoint?.response.status);
  expect(endpoint?.response.schema?.parse(answer.body)).toEqual(answer.body);
});

it('calls every JSON address of the book that the table has', () => {
  const called = new Set(CALLS.map(([method, path]) => `${method} ${path}`));
  const own = ENDPOINTS.filter(
    (e) =>
      /^\/api\/(?:health$|record)/.test(e.path) &&
      e.response.type === 'application/json' &&
      !/archive|import|export/.test(e.path),
  );
  expect(own.map((e) => `${e.method} ${e.path}`).filter((name) => !called.has(name))).toEqual([]);
});

it('answers 503 with the reason while the book can not be opened, and health says no-book', async () => {
  const closed = serverUnderTest(
    directAnalyst,
    createBook({ folder: '/dev/null/book', analyst: directAnalyst }),
  );
  const refused = await closed.get('/api/record/dyes');
  expect(refused.status).toBe(503);
  const { error } = errorAnswer.parse(await refused.json());
  expect(error.code).toBe('book-unavailable');
  expect(error.message).not.toContain('/dev/null');
  expect(closed.logged.join('')).toMatch(/book-unavailable.*ENOTDIR|ENOTDIR.*book-unavailable/s);
  expect(await (await closed.get('/api/health')).json()).toMatchObject({ status: 'no-book' });
  expect((await closed.get('/api/demos')).status).toBe(200);
});

it.each([
  ['a body that is no JSON', '/api/record/dyes', 'weld', 'application/json'],
  ['a form in place of JSON', '/api/record/dyes', 'name=weld', 'application/x-www-form-urlencoded'],
  ['a dye without a name', '/api/record/dyes', '{}', 'application/json'],
  ['a name with a line break', '/api/record/dyes', '{"name":"we\\nld"}', 'application/json'],
  ['a name with half a character', '/api/record/dyes', '{"name":"w\\ud83d"}', 'application/json'],
  ['a time of 1e999 s', '/api/record/prints', '{"secondsUsed":1e999}', 'application/json'],
  ['a row of an unknown kind', '/api/record/put-away', `{"kind":"photo","id":"x"}`, 'application/json'],
  ['both numbers and reading of a control', '/api/record/controls', '{}', 'application/json'],
])('refuses %s with 400 and a place', async (_, path, body, type) => {
  const answer = await server.post(path, body, { 'content-type': type });
  expect(answer.status).toBe(400);
  expect(errorAnswer.parse(await answer.json()).error.code).toBe('request-invalid');
});
