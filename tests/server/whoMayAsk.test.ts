import { describe, expect, it } from 'vitest';
import type { Visitors } from '../../server/contracts/endpoint.ts';
import { ENDPOINTS } from '../../server/contracts/endpoints.ts';
import { mayAskBy } from '../../server/guards/pairedGuard.ts';
import { doorsUnderTest, OTHER_PHONE, PHONE } from '../helpers/doorsUnderTest.ts';
import { demoFiles, formOf } from '../helpers/serverUnderTest.ts';

const ID = '00000000-0000-4000-8000-000000000001';
const pathOf = (path: string): string =>
  path
    .replace('{sha256}', 'a'.repeat(64))
    .replace('{file}', 'none.jpg')
    .replace(/\{\w+\}/g, ID);
const SHUT = ['pairing-needed', 'book-shut', 'computer-only'];

const doors = doorsUnderTest();
const phone = await doors.pair(PHONE);
const reader = await doors.pair(OTHER_PHONE);
const phonesNow = async () => (await (await doors.onComputer('/api/pairing')).json()).phones;
const openBook = async (id: string, book: boolean): Promise<Response> =>
  doors.onComputer(`/api/pairing/phones/${id}`, {
    method: 'PATCH',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ book }),
  });
const [, second] = await phonesNow();
await openBook(second.id, true);

/** Why somebody is shut out of an address; null where it is answered, be it with what the request lacks. */
const shutOut = async (ask: Promise<Response>): Promise<string | null> => {
  const response = await ask;
  const type = response.headers.get('content-type') ?? '';
  if (!type.startsWith('application/json')) {
    await response.body?.cancel();
    return null;
  }
  const code = (await response.json()).error?.code;
  return SHUT.includes(code) ? code : null;
};

/** What each kind of visitor is told at an address of each kind; null where it may ask. Written by hand, row by row. */
const TOLD: Readonly<Record<Visitors, Readonly<Record<string, string | null>>>> = {
  anyone: { stranger: null, phone: null, reader: null, computer: null },
  phone: { stranger: 'pairing-needed', phone: null, reader: null, computer: null },
  book: { stranger: 'pairing-needed', phone: 'book-shut', reader: null, computer: null },
  computer: {
    stranger: 'pairing-needed',
    phone: 'computer-only',
    reader: 'computer-only',
    computer: null,
  },
};

describe('every address of the list', () => {
  it.each(
    ENDPOINTS.map((endpoint) => [`${endpoint.method.toUpperCase()} ${endpoint.path}`, endpoint] as const),
  )('%s lets in whom it is for, and nobody else', async (_, { method, path, visitors }) => {
    const asked = {
      method: method.toUpperCase(),
      ...(method !== 'get' && { body: '{}', headers: { 'content-type': 'application/json' } }),
    };
    const told = {
      stranger: await shutOut(doors.onNetwork(pathOf(path), asked)),
      phone: await shutOut(doors.onNetwork(pathOf(path), { ...asked, cookie: phone })),
      reader: await shutOut(doors.onNetwork(pathOf(path), { ...asked, cookie: reader, from: OTHER_PHONE })),
      computer: await shutOut(doors.onComputer(pathOf(path), asked)),
    };
    expect(told).toEqual(TOLD[visitors]);
  });
});

const of = (visitors: Visitors): readonly string[] =>
  ENDPOINTS.filter((endpoint) => endpoint.visitors === visitors)
    .map(({ method, path }) => `${method.toUpperCase()} ${path}`)
    .sort();

describe('the list of who may ask', () => {
  it('opens two addresses to anyone on the network', () => {
    expect(of('anyone')).toEqual(['GET /api/visitor', 'POST /api/pairing/exchange']);
  });

  it('keeps pairing, the inbox and the archive to the computer', () => {
    expect(of('computer')).toEqual([
      'DELETE /api/inbox/{id}',
      'DELETE /api/pairing',
      'DELETE /api/pairing/phones/{id}',
      'GET /api',
      'GET /api/inbox',
      'GET /api/inbox/events',
      'GET /api/inbox/{id}/photo',
      'GET /api/inbox/{id}/preview',
      'GET /api/openapi.json',
      'GET /api/pairing',
      'GET /api/record/archive',
      'PATCH /api/pairing/phones/{id}',
      'POST /api/pairing',
      'POST /api/record/archive',
    ]);
  });

  it('has nothing of the book among what every paired phone may ask', () => {
    expect(of('phone').filter((address) => address.includes('/api/record'))).toEqual([]);
    expect(of('phone')).toContain('POST /api/inbox');
    expect(of('phone')).toContain('POST /api/plans');
    expect(of('phone')).toContain('POST /api/readings');
  });

  it.each([
    ['GET', '/api/nowhere'],
    ['GET', '/api/addresses.css'],
    ['PUT', '/api/readings'],
    ['GET', '/api/readings/'],
    ['GET', '/api/record/readings/x/y'],
    ['TRACE', '/api/plans'],
    ['GET', '/api/__proto__'],
    ['constructor', '/api/plans'],
  ])('takes what it does not name, %s %s, for the computer’s own', (method, path) => {
    expect(mayAskBy(ENDPOINTS)(method, path)).toBe('computer');
  });

  it('asks of HEAD what it asks of GET', () => {
    expect(mayAskBy(ENDPOINTS)('HEAD', '/api/record/archive')).toBe('computer');
    expect(mayAskBy(ENDPOINTS)('HEAD', '/api/demos')).toBe('phone');
  });
});

describe('an address written another way', () => {
  it.each([
    '/api/record/%61rchive',
    '/api/%72ecord/archive',
    '/api/record/archive/',
    '/api//record/archive',
    '/api/./record/archive',
    '/api/demos/../record/archive',
    '/api/demos/%2e%2e/record/archive',
    '/api/demos%2F..%2Frecord%2Farchive',
    '/api/record/archive;x=1',
    '/API/record/archive',
    '/api/record/archive%00',
    '/api/record/archive?paper=a4#x',
    '//api/record/archive',
    '/api\\record\\archive',
  ])('%s gives a phone no archive, also one that may use the book', async (path) => {
    const response = await doors.onNetwork(path, { cookie: reader, from: OTHER_PHONE });
    expect(response.status).toBeGreaterThanOrEqual(400);
    expect(response.headers.get('content-type')).toContain('application/json');
    await response.text();
  });

  it('and another method asked for in a header changes nothing', async () => {
    const response = await doors.onNetwork('/api/pairing', {
      method: 'POST',
      cookie: phone,
      headers: { 'x-http-method-override': 'GET', 'x-original-url': '/api/visitor' },
    });
    expect(response.status).toBe(403);
  });
});

describe('the book, to a phone', () => {
  const filled = doorsUnderTest();

  it('is shut at first, opens and shuts as the computer says, at once', async () => {
    const cookie = await filled.pair();
    const list = () => filled.onNetwork('/api/record/readings', { cookie });
    const visitor = async () => (await (await filled.onNetwork('/api/visitor', { cookie })).json()).book;
    const set = async (book: unknown): Promise<Response> => {
      const [{ id }] = (await (await filled.onComputer('/api/pairing')).json()).phones;
      return filled.onComputer(`/api/pairing/phones/${id}`, {
        method: 'PATCH',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ book }),
      });
    };
    expect([(await list()).status, await visitor()]).toEqual([403, false]);
    expect((await (await set(true)).json()).phones[0].book).toBe(true);
    expect([(await list()).status, await visitor()]).toEqual([200, true]);
    expect((await set('yes')).status).toBe(400);
    await set(false);
    expect([(await list()).status, await visitor()]).toEqual([403, false]);
  });

  it('is opened to one phone and not to another', async () => {
    const [first, other] = await phonesNow();
    expect([first.book, other.book]).toEqual([false, true]);
  });

  it('can’t be opened by a phone, nor for a phone that is not there', async () => {
    const [first] = await phonesNow();
    const self = await doors.onNetwork(`/api/pairing/phones/${first.id}`, {
      method: 'PATCH',
      cookie: phone,
      headers: { 'content-type': 'application/json' },
      body: '{"book":true}',
    });
    expect(self.status).toBe(403);
    expect((await openBook('nobody', true)).status).toBe(404);
    expect((await phonesNow())[0].book).toBe(false);
  });

  it('is not in what a phone may do with a strip of its own: plan, send, read', async () => {
    const hemp = demoFiles('hemp-banner-blue');
    const ask = (path: string, body: BodyInit) =>
      doors.onNetwork(path, { method: 'POST', body, cookie: phone });
    expect((await ask('/api/inbox', formOf({ photo: hemp.photo }))).status).toBe(201);
    expect((await ask('/api/readings', formOf(hemp))).status).toBe(200);
    expect((await ask('/api/record/readings', formOf({ ...hemp, context: '{}' }))).status).toBe(403);
    const { counts } = await (await doors.onComputer('/api/record')).json();
    expect(counts.reading).toBe(0);
  });
});
