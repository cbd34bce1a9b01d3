import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { previewAnswer } from '../../server/contracts/answers.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { inboxAnswer, inboxReceipt, pairingState } from '../../server/contracts/pairing.ts';
import { createInbox, type Inbox } from '../../server/inbox.ts';
import { diskInboxFiles, memoryInboxFiles } from '../../server/inboxFiles.ts';
import { Refusal } from '../../server/refusal.ts';
import { doorsUnderTest } from '../helpers/doorsUnderTest.ts';
import { demoFiles, formOf } from '../helpers/serverUnderTest.ts';

const hemp = demoFiles('hemp-banner-blue');
const limits = { photos: 2, bytes: 10_000, lastsMs: 1000 };
const arrival = (fill: number, bytes = 100) => ({
  bytes: new Uint8Array(bytes).fill(fill),
  name: 'a.jpg',
  format: 'jpeg',
  from: 'Phone 1',
});
const codeOf = async (work: Promise<unknown>): Promise<string> => {
  try {
    await work;
  } catch (error) {
    if (error instanceof Refusal) return error.code;
    throw error;
  }
  return 'none';
};
const idsIn = async (inbox: Inbox): Promise<string[]> => (await inbox.list()).photos.map(({ id }) => id);

describe('the inbox', () => {
  it('keeps 2 photos where 2 may be kept, refuses the third and pushes none out', async () => {
    const inbox = createInbox({ limits });
    const first = (await inbox.put(arrival(1))).photo.id;
    const second = (await inbox.put(arrival(2))).photo.id;
    expect(await codeOf(inbox.put(arrival(3)))).toBe('inbox-full');
    expect(await idsIn(inbox)).toEqual([second, first]);
    await inbox.remove(first);
    expect((await inbox.put(arrival(3))).already).toBe(false);
  });

  it('refuses the third also where all three arrive at the same moment', async () => {
    const inbox = createInbox({ limits });
    const codes = await Promise.all([1, 2, 3].map((fill) => codeOf(inbox.put(arrival(fill)))));
    expect(codes.sort()).toEqual(['inbox-full', 'none', 'none']);
    expect(await idsIn(inbox)).toHaveLength(2);
  });

  it('refuses a photo of 9901 bytes where 9900 are left', async () => {
    const inbox = createInbox({ limits });
    await inbox.put(arrival(1, 100));
    expect(await codeOf(inbox.put(arrival(2, 9901)))).toBe('inbox-full');
    expect((await inbox.put(arrival(2, 9900))).photo.bytes).toBe(9900);
    expect((await inbox.list()).room).toEqual({ photos: 0, bytes: 0 });
  });

  it('knows a photo that is sent again, also at the same moment and when it is full', async () => {
    const inbox = createInbox({ limits });
    await inbox.put(arrival(1));
    const both = await Promise.all([inbox.put(arrival(2)), inbox.put(arrival(2))]);
    expect(both.map(({ already }) => already).sort()).toEqual([false, true]);
    const { photo } = both[0];
    expect(await inbox.put(arrival(2))).toEqual({ photo, already: true });
    expect(await idsIn(inbox)).toHaveLength(2);
  });

  it('lets go of a photo after its time, and counts that it did', async () => {
    let now = 0;
    const inbox = createInbox({ limits, now: () => now });
    const { photo } = await inbox.put(arrival(1));
    now = 999;
    expect(await inbox.bytesOf(photo.id)).not.toBeNull();
    now = 1000;
    expect(await inbox.bytesOf(photo.id)).toBeNull();
    expect(await inbox.list()).toMatchObject({ photos: [], expired: 1 });
  });
});

describe('the inbox on the disk', () => {
  const folders: string[] = [];
  const folder = (): string => {
    const made = mkdtempSync(join(tmpdir(), 'tonestep-inbox-'));
    folders.push(made);
    return join(made, 'inbox');
  };
  afterAll(() => {
    for (const one of folders) rmSync(one, { recursive: true, force: true });
  });
  const openAt = (path: string, now?: () => number): Inbox =>
    createInbox({ limits, files: diskInboxFiles(path), ...(now && { now }) });

  it('has its photos again after the server was stopped, newest first', async () => {
    const path = folder();
    let now = 0;
    const before = openAt(path, () => now);
    const { photo } = await before.put(arrival(1));
    now = 5;
    const later = (await before.put(arrival(2))).photo;
    const after = openAt(path, () => now);
    expect((await after.list()).photos).toEqual([later, photo]);
    expect((await after.bytesOf(photo.id))?.bytes).toEqual(arrival(1).bytes);
    await after.remove(photo.id);
    expect(await idsIn(openAt(path, () => now))).toEqual([later.id]);
    expect(readdirSync(path)).toHaveLength(2);
  });

  it('leaves out what was only half written, or is not what it was, and sweeps it up', async () => {
    const path = folder();
    const now = () => 0;
    const inbox = openAt(path, now);
    const short = (await inbox.put(arrival(1))).photo.id;
    const whole = (await inbox.put(arrival(2))).photo.id;
    writeFileSync(join(path, `${short}.photo`), 'x');
    writeFileSync(join(path, 'left-over.part'), 'x');
    writeFileSync(join(path, `${'a'.repeat(32)}.photo`), 'nothing is said of this one');
    writeFileSync(join(path, `${'b'.repeat(32)}.json`), '{"id":"../../x"}');
    writeFileSync(join(path, 'notes.txt'), 'somebody else’s');
    expect(await idsIn(openAt(path, now))).toEqual([whole]);
    expect(readdirSync(path).sort()).toEqual([`${whole}.json`, `${whole}.photo`, 'notes.txt'].sort());
  });

  it('drops what ran out of time while the server was off', async () => {
    const path = folder();
    await openAt(path, () => 0).put(arrival(1));
    const after = openAt(path, () => 1000);
    expect(await after.list()).toMatchObject({ photos: [], expired: 1 });
    await vi.waitFor(() => expect(readdirSync(path)).toEqual([]));
  });

  it('gives each photo to its owner alone', async () => {
    const path = folder();
    const { photo } = await openAt(path).put(arrival(1));
    expect(statSync(join(path, `${photo.id}.photo`)).mode & 0o077).toBe(0);
  });

  it('is in memory where a file lies in the place of its folder', async () => {
    const path = folder();
    writeFileSync(path, 'in the way');
    const inbox = openAt(path);
    const { photo } = await inbox.put(arrival(1));
    expect((await inbox.bytesOf(photo.id))?.bytes).toEqual(arrival(1).bytes);
  });

  it('says that the disk is full, keeps nothing of that photo, and takes it later', async () => {
    let full = true;
    const memory = memoryInboxFiles();
    const inbox = createInbox({
      limits,
      files: {
        ...memory,
        keep: async (photo, bytes) => {
          if (full) throw new Refusal('disk-full', 'The disk is full.');
          await memory.keep(photo, bytes);
        },
      },
    });
    expect(await codeOf(inbox.put(arrival(1)))).toBe('disk-full');
    expect(await inbox.list()).toMatchObject({ photos: [], room: { photos: 2, bytes: 10_000 } });
    full = false;
    expect((await inbox.put(arrival(1))).already).toBe(false);
  });
});

/** Reads server-sent events one at a time. Source of the format: WHATWG HTML, "Server-sent events". */
const eventsOf = (response: Response) => {
  const reader = (response.body ?? new ReadableStream()).pipeThrough(new TextDecoderStream()).getReader();
  let text = '';
  return {
    async next(): Promise<{ event: string; data: unknown }> {
      while (!text.includes('\n\n')) {
        const { done, value } = await reader.read();
        if (done) throw new Error('the events ended');
        text += value;
      }
      const [block, ...rest] = text.split('\n\n');
      text = rest.join('\n\n');
      const field = (name: string): string =>
        block
          .split('\n')
          .filter((line) => line.startsWith(`${name}: `))
          .map((line) => line.slice(name.length + 2))
          .join('\n');
      return { event: field('event'), data: JSON.parse(field('data')) };
    },
    close: () => reader.cancel(),
  };
};

describe('GET /api/inbox/events', () => {
  it('tells the computer at once of a photo that a phone sends, with a preview behind it', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const response = await doors.onComputer('/api/inbox/events');
    expect(response.headers.get('content-type')).toContain('text/event-stream');
    const events = eventsOf(response);
    expect(inboxAnswer.parse((await events.next()).data).photos).toEqual([]);
    expect(pairingState.parse((await events.next()).data).phones).toHaveLength(1);
    const started = performance.now();
    const sent = await doors.onNetwork('/api/inbox', {
      method: 'POST',
      body: formOf({ photo: hemp.photo }),
      cookie,
    });
    const { photo } = inboxReceipt.parse(await sent.json());
    const { event, data } = await events.next();
    expect(performance.now() - started).toBeLessThan(1000);
    expect(event).toBe('inbox');
    expect(inboxAnswer.parse(data).photos).toEqual([photo]);
    const { preview } = previewAnswer.parse(await (await doors.onComputer(photo.previewHref)).json());
    expect([preview.photoWidthPx, preview.photoHeightPx]).toEqual([1000, 750]);
    expect((await doors.onComputer(preview.href)).status).toBe(200);
    await events.close();
  });

  it('tells the computer of a phone that comes in and of one that is ended', async () => {
    const doors = doorsUnderTest();
    const events = eventsOf(await doors.onComputer('/api/inbox/events'));
    await events.next();
    await events.next();
    await doors.pair();
    const seen: number[] = [];
    let phones = pairingState.parse((await events.next()).data).phones;
    seen.push(phones.length);
    if (phones.length === 0) {
      phones = pairingState.parse((await events.next()).data).phones;
      seen.push(phones.length);
    }
    expect(seen.at(-1)).toBe(1);
    await doors.onComputer(`/api/pairing/phones/${phones[0].id}`, { method: 'DELETE' });
    expect(pairingState.parse((await events.next()).data).phones).toEqual([]);
    await events.close();
  });

  it('has room for 96 listeners, and again once one has left', async () => {
    const doors = doorsUnderTest();
    const open = [];
    for (let i = 0; i < 96; i++) open.push(eventsOf(await doors.onComputer('/api/inbox/events')));
    const refused = await doors.onComputer('/api/inbox/events');
    expect(refused.status).toBe(503);
    await open[0].close();
    await new Promise((resolve) => setTimeout(resolve, 20));
    const next = await doors.onComputer('/api/inbox/events');
    expect(next.status).toBe(200);
    await next.body?.cancel();
    for (const events of open.slice(1)) await events.close();
  });
});

describe('an upload', () => {
  it('that finds no room in memory is told when to try again, and is kept once another has gone through', async () => {
    const form = new Response(formOf({ photo: hemp.photo }));
    const type = form.headers.get('content-type') ?? '';
    const body = new Uint8Array(await form.arrayBuffer());
    const doors = doorsUnderTest({ uploadBytes: body.length + 100 });
    const cookie = await doors.pair();
    const send = (bytes: BodyInit, length: number) =>
      doors.onNetwork('/api/inbox', {
        method: 'POST',
        body: bytes,
        cookie,
        headers: { 'content-type': type, 'content-length': String(length) },
      });
    let finish = (): void => undefined;
    const slow = new ReadableStream<Uint8Array>({
      start(controller) {
        finish = () => {
          controller.enqueue(body);
          controller.close();
        };
      },
    });
    const first = send(slow, body.length);
    await new Promise((resolve) => setTimeout(resolve, 10));
    const refused = await send(body, body.length);
    expect(refused.status).toBe(503);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(errorAnswer.parse(await refused.json()).error.code).toBe('busy');
    finish();
    expect((await first).status).toBe(201);
    // Kept already: these are the same bytes. The room has been given back each time.
    for (let i = 0; i < 3; i++) expect((await send(body, body.length)).status).toBe(200);
  });
});
