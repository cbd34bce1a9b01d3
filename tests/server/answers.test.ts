import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import type { Endpoint } from '../../server/contracts/endpoint.ts';
import { ENDPOINTS } from '../../server/contracts/endpoints.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import type { OpenApiDocument } from '../../server/openapi/openApiDocument.ts';
import { STATUS_OF_CODE } from '../../server/statusOfCode.ts';
import { demoFiles, formOf, PORT, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const hemp = demoFiles('hemp-banner-blue');
const silk = demoFiles('silk-scarf-plum');

/** What was answered, by "method path" of the list. */
const answered = new Map<string, { status: number; type: string; body: unknown }[]>();

const endpointOf = (method: Endpoint['method'], path: string): Endpoint => {
  const bare = path.split('?')[0];
  const fits = ENDPOINTS.filter(
    (e) => e.method === method && new RegExp(`^${e.path.replace(/\{\w+\}/g, '[^/]+')}$`).test(bare),
  );
  // A fixed name goes before a parameter, as in the server.
  const [found] = fits.toSorted((a, b) => a.path.split('{').length - b.path.split('{').length);
  if (!found) throw new Error(`${method} ${path} is not in the list`);
  return found;
};

/** Asks the server, and holds the answer against the list: status, type, and shape with nothing more in it. */
const ask = async (
  method: Endpoint['method'],
  path: string,
  body?: FormData | Uint8Array | object,
  // biome-ignore lint/suspicious/noExplicitAny: whatever the address answers
): Promise<any> => {
  const endpoint = endpointOf(method, path);
  const sent = body instanceof FormData || body instanceof Uint8Array ? body : JSON.stringify(body);
  const type =
    body instanceof FormData
      ? {}
      : { 'content-type': body instanceof Uint8Array ? 'application/zip' : 'application/json' };
  const response = await server.app.request(`http://localhost:${PORT}${path}`, {
    method: method.toUpperCase(),
    headers: { host: `localhost:${PORT}`, origin: `http://localhost:${PORT}`, ...(body && type) },
    ...(body && { body: sent as BodyInit }),
  });
  const mime = (response.headers.get('content-type') ?? '').split(';')[0];
  const json = mime === 'application/json' ? await response.json() : null;
  expect({ path, status: response.status, json: response.status >= 400 ? json : null }).toEqual({
    path,
    status: endpoint.response.status,
    json: null,
  });
  expect(mime).toMatch(new RegExp(`^${endpoint.response.type.replace('*', '.+')}$`));
  if (endpoint.response.schema) expect(endpoint.response.schema.parse(json)).toEqual(json);
  const key = `${endpoint.method} ${endpoint.path}`;
  answered.set(key, [...(answered.get(key) ?? []), { status: response.status, type: mime, body: json }]);
  return json ?? new Uint8Array(await response.arrayBuffer());
};

/** Asks for what is refused: the code must be one that the list has, under its status. */
const refused = async (
  method: Endpoint['method'],
  path: string,
  body?: FormData | object,
): Promise<string> => {
  const endpoint = endpointOf(method, path);
  const response = await server.app.request(`http://localhost:${PORT}${path}`, {
    method: method.toUpperCase(),
    headers: {
      host: `localhost:${PORT}`,
      origin: `http://localhost:${PORT}`,
      ...(!(body instanceof FormData) && body && { 'content-type': 'application/json' }),
    },
    ...(body && { body: body instanceof FormData ? body : JSON.stringify(body) }),
  });
  const { code } = errorAnswer.parse(await response.json()).error;
  expect(response.status).toBe(STATUS_OF_CODE[code]);
  expect({ path, codes: endpoint.errors }).toEqual({ path, codes: expect.arrayContaining([code]) });
  return code;
};

describe('answers of the server are what the list of addresses says', () => {
  it('about itself, demos and previews', async () => {
    for (const path of [
      '/api',
      '/api/openapi.json',
      '/api/health',
      '/api/visitor',
      '/api/pairing',
      '/api/inbox',
    ])
      await ask('get', path);
    const { demos } = await ask('get', '/api/demos');
    await ask('get', `/api/demos/${demos[0].id}`);
    await ask('get', `/api/demos/${demos[0].id}/photo`);
    const { preview } = await ask('post', '/api/previews', formOf({ photo: hemp.photo }));
    await ask('get', preview.href);
    await ask('get', '/api/sheets?paper=a4');
    await ask('post', '/api/sheets', { paper: 'letter', dye: 'light-set blue' });
    await ask('delete', '/api/pairing');
  });

  it('about the inbox', async () => {
    const { photo } = await ask('post', '/api/inbox', formOf({ photo: hemp.photo }));
    await ask('get', photo.photoHref);
    await ask('get', photo.previewHref);
    await ask('get', '/api/inbox');
    await ask('delete', `/api/inbox/${photo.id}`);
  });

  it('about readings, and what is asked about them', async () => {
    const { reading } = await ask('post', '/api/readings', formOf(hemp));
    const { reading: other } = await ask('post', '/api/readings', formOf(silk));
    const curve = reading;
    await ask('post', '/api/plans', { start: { kind: 'nothing' }, light: 'tubes' });
    await ask('post', '/api/comparisons', {
      readings: [
        reading,
        { ...other, strip: { ...other.strip, cloth: reading.strip.cloth, light: reading.strip.light } },
      ],
    });
    await ask('post', '/api/transfers', { curve, scraps: [{ seconds: 105, L: 52, uL: 0.5 }] });
    await ask('post', '/api/evenness/cells', {
      curve,
      cells: Array.from({ length: 4 }, () => Array.from({ length: 5 }, (_, i) => 47 + i / 4)),
    });
    await ask('post', '/api/reports', formOf({ reading: JSON.stringify(reading) }));
  });

  it('about the book', async () => {
    const context = (more: object) =>
      JSON.stringify({ confirmed: true, exposedAt: '2026-05-02T09:00:00.000Z', ...more });
    const dye = await ask('post', '/api/record/dyes', { name: 'third dye' });
    await ask('patch', `/api/record/dyes/${dye.id}`, { remark: 'pale' });
    await ask('post', '/api/record/cloths', { name: 'third cloth' });
    await ask('post', '/api/record/lights', { name: 'third light', kind: 'sun' });
    const batch = await ask('post', '/api/record/batches', {
      name: 'May',
      mixedAt: '2026-05-01T08:00:00.000Z',
    });
    await ask('post', '/api/record/cards', { name: 'card', card: 'grey-18' });
    await ask('post', '/api/record/plans', { name: 'plan', seconds: [0, 30, 60], plan: {} });
    for (const things of ['dyes', 'cloths', 'lights', 'batches', 'cards', 'plans'])
      await ask('get', `/api/record/${things}`);

    const { line } = await ask(
      'post',
      '/api/record/readings',
      formOf({ ...hemp, context: context({ batchId: batch.id, lampHours: 100 }) }),
    );
    const { dyeId, clothId, lightId, id, photo } = line;
    const place = { dyeId, clothId, lightId };
    await ask('get', '/api/record/readings?text=blue');
    await ask('get', `/api/record/readings/${id}`);
    await ask('post', `/api/record/readings/${id}/again`, { confirmed: true });
    await ask('get', `/api/record/photos/${photo}`);
    await ask('get', `/api/record/photos/${photo}/preview`);
    await ask('post', '/api/record/controls', { againstId: id, scraps: [{ seconds: 105, L: 48, uL: 0.5 }] });
    await ask('get', '/api/record/controls');
    const print = await ask('post', '/api/record/prints', { ...place, secondsUsed: 600 });
    await ask('patch', `/api/record/prints/${print.id}`, { reachedL: 35 });
    await ask('get', '/api/record/prints');
    await ask('post', '/api/record/notes', { on: { kind: 'reading', id }, text: 'a dry day' });
    await ask('get', `/api/record/notes?kind=reading&id=${id}`);
    await ask('post', '/api/record/today', place);
    await ask('post', '/api/record/today', { ...place, dyeId: dye.id });
    await ask('get', '/api/record/feedback');
    await ask('post', '/api/record/put-away', { kind: 'dye', id: dye.id });
    await ask('post', '/api/record/bring-back', { kind: 'dye', id: dye.id });
    for (const what of ['report', 'steps', 'curve', 'cgats'])
      await ask('get', `/api/record/readings/${id}/${what}`);
    const archive = await ask('get', '/api/record/archive');
    await ask('post', '/api/record/archive', archive);
    await ask('get', '/api/record');
  });

  it('about what is refused', async () => {
    const nobody = crypto.randomUUID();
    expect(await refused('get', '/api/demos/none')).toBe('not-found');
    expect(await refused('get', `/api/record/readings/${nobody}`)).toBe('not-found');
    expect(await refused('get', `/api/record/readings/${nobody}/curve`)).toBe('not-found');
    expect(await refused('get', '/api/record/readings?limit=0')).toBe('request-invalid');
    expect(await refused('post', '/api/record/dyes', { name: '' })).toBe('request-invalid');
    expect(await refused('post', '/api/record/dyes', { name: 'Third  DYE' })).toBe('book-conflict');
    expect(await refused('post', '/api/readings', formOf({ photo: hemp.photo }))).toBe('strip-invalid');
    expect(await refused('post', '/api/reports', formOf({}))).toBe('request-invalid');
    expect(await refused('post', '/api/record/archive', formOf({}))).toBe('request-invalid');
    expect(
      await refused('post', '/api/record/controls', {
        againstId: nobody,
        scraps: [{ seconds: 9, L: 50, uL: 1 }],
      }),
    ).toBe('not-found');
  });

  it('of nearly every address: those left out are named here, with the test that asks them', () => {
    const elsewhere = new Set([
      'post /api/pairing/exchange', // lan.test.ts: needs the door of the network
      'post /api/pairing', // lan.test.ts
      'delete /api/pairing/phones/{id}', // lan.test.ts
      'patch /api/pairing/phones/{id}', // whoMayAsk.test.ts
      'post /api/steps', // steps.test.ts
      'get /api/inbox/events', // inbox.test.ts: an answer without an end
      'post /api/drifts', // questions.test.ts: needs eight scraps
      'post /api/evenness', // questions.test.ts: needs the photo of a sheet
      'patch /api/record/cloths/{id}',
      'patch /api/record/lights/{id}',
      'patch /api/record/batches/{id}',
      'patch /api/record/cards/{id}',
      'patch /api/record/plans/{id}', // as dyes
    ]);
    const missing = ENDPOINTS.map(({ method, path }) => `${method} ${path}`).filter(
      (key) => !answered.has(key) && !elsewhere.has(key),
    );
    expect(missing).toEqual([]);
  });
});

/** python3's jsonschema holds each JSON answer against the shape that the OpenAPI document gives it. */
const VALIDATE = `
import json, sys
import jsonschema
document, cases = json.load(sys.stdin)
found = []
for place, schema, instance in cases:
    whole = {**schema, "components": document["components"]}
    errors = jsonschema.Draft202012Validator(whole).iter_errors(instance)
    found += [place + " " + e.json_path + ": " + e.message[:160] for e in errors][:3]
print(json.dumps(found))
`;
const probe = spawnSync('python3', ['-c', 'import jsonschema; jsonschema.Draft202012Validator'], {
  encoding: 'utf8',
});
const absent = probe.error !== undefined || probe.status !== 0;

describe.skipIf(absent)(
  'the same answers, by the OpenAPI document alone (skipped without python3-jsonschema)',
  () => {
    it('have the shapes that it says, by a validator that knows nothing of zod', async () => {
      const document = (await (await server.get('/api/openapi.json')).json()) as OpenApiDocument;
      const cases = [...answered.entries()].flatMap(([key, answers]) => {
        const [method, path] = key.split(' ');
        return answers.flatMap(({ status, type, body }) => {
          const schema = document.paths[path][method].responses[String(status)].content?.[type]?.schema;
          return body === null || !schema || schema.format === 'binary' ? [] : [[key, schema, body]];
        });
      });
      expect(cases.length).toBeGreaterThan(40);
      const { stdout, stderr } = spawnSync('python3', ['-c', VALIDATE], {
        input: JSON.stringify([document, cases]),
        encoding: 'utf8',
        maxBuffer: 100_000_000,
      });
      expect(stderr).toBe('');
      expect(JSON.parse(stdout)).toEqual([]);
    });
  },
);
