import { afterEach, describe, expect, it, vi } from 'vitest';
import type { StripDescription } from '../../server/contracts/strip.ts';
import { Failure } from '../../web/api.ts';
import { fetchedOnce, learnKey, lookAtSteps, readPhotos, sourceOf } from '../../web/stripPhotos.ts';

const KELP = 'a'.repeat(32);
const DULSE = 'b'.repeat(32);
const strip: StripDescription = { dye: '', cloth: '', light: '', card: 'grey-18', steps: [{ seconds: 60 }] };
const marks = { card: [], steps: [] };
const signal = new AbortController().signal;

type Reply = (address: string, init: RequestInit) => { readonly status: number; readonly body: unknown };

/** What the page sends, and what a server says to it. */
const server = (reply: Reply) => {
  const sent: { readonly address: string; readonly init: RequestInit }[] = [];
  vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
    sent.push({ address, init });
    const { status, body } = reply(address, init);
    return new Response(JSON.stringify(body), { status });
  });
  return sent;
};
const formOf = ({ init }: { readonly init: RequestInit }): FormData => init.body as FormData;

const reading = { status: 200, body: { reading: {}, preview: { href: '', photoKey: KELP } } };
const forgotten = { status: 410, body: { error: { code: 'photo-forgotten', message: 'Gone.' } } };

afterEach(() => {
  vi.unstubAllGlobals();
});

const request = (...photos: readonly ReturnType<typeof sourceOf>[]) => {
  const [first, ...others] = photos.map((source) => ({ source, marks: null }));
  return { photos: [first, ...others], strip, target: { kind: 'full' } } as Parameters<typeof readPhotos>[0];
};

describe('a photo that is read', () => {
  it('is sent the first time, and named by its key the second', async () => {
    const sent = server(() => reading);
    const source = sourceOf(new Blob(['kelp']));
    await readPhotos(request(source), signal);
    await readPhotos(request(source), signal);
    expect(sent.map((one) => formOf(one).has('photo'))).toEqual([true, false]);
    expect(JSON.parse(String(formOf(sent[1]).get('photoKey')))).toBe(KELP);
  });

  it('is sent again where the server has forgotten it', async () => {
    const sent = server((_, { body }) => ((body as FormData).has('photo') ? reading : forgotten));
    const source = sourceOf(new Blob(['kelp']));
    learnKey(source, KELP);
    await readPhotos(request(source), signal);
    expect(sent.map((one) => formOf(one).has('photo'))).toEqual([false, true]);
  });

  it('goes with its further photos as files where one of them has no key', async () => {
    const sent = server(() => reading);
    const [first, second] = ['kelp', 'dulse'].map((text) => sourceOf(new Blob([text])));
    learnKey(first, KELP);
    await readPhotos(request(first, second), signal);
    expect(formOf(sent[0]).getAll('also')).toHaveLength(1);
    learnKey(second, DULSE);
    await readPhotos(request(first, second), signal);
    expect(formOf(sent[1]).has('also')).toBe(false);
    expect(JSON.parse(String(formOf(sent[1]).get('alsoKeys')))).toEqual([DULSE]);
  });

  it('says what else was refused, and is not sent twice for it', async () => {
    const refused = { status: 422, body: { error: { code: 'strip-not-found', message: 'No strip.' } } };
    const sent = server(() => refused);
    const source = sourceOf(new Blob(['kelp']));
    learnKey(source, KELP);
    const error = await readPhotos(request(source), signal).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(Failure);
    expect(error).toMatchObject({ code: 'strip-not-found' });
    expect(sent).toHaveLength(1);
  });
});

describe('a look at steps', () => {
  it('names the photo alone; where it is forgotten, it is sent once and asked for again', async () => {
    let known = false;
    const sent = server((address) => {
      if (address === '/api/previews') {
        known = true;
        return { status: 200, body: { preview: { href: '', photoKey: DULSE } } };
      }
      return known ? { status: 200, body: { steps: [] } } : forgotten;
    });
    const source = sourceOf(new Blob(['dulse']));
    learnKey(source, KELP);
    expect(await lookAtSteps([{ source, marks }], strip, signal)).toEqual({ steps: [] });
    expect(sent.map(({ address }) => address)).toEqual(['/api/steps', '/api/previews', '/api/steps']);
    expect(JSON.parse(String(sent[2].init.body)).photos).toEqual([{ key: DULSE, marks }]);
  });
});

describe('a photo that has to be fetched', () => {
  it('is fetched once, and again where that failed', async () => {
    let times = 0;
    const source = fetchedOnce(async () => {
      times += 1;
      if (times === 1) throw new Error('no network');
      return new Blob(['kelp']);
    });
    await expect(source()).rejects.toThrow('no network');
    expect(await source()).toBe(await source());
    expect(times).toBe(2);
  });
});
