import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { createAdaptorServer } from '@hono/node-server';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { Analyst } from '../../server/analyst.ts';
import { createApp } from '../../server/app.ts';
import { createDemos } from '../../server/demos.ts';
import { computerDoor } from '../../server/door.ts';
import { createFaultLog } from '../../server/faultLog.ts';
import { createInbox } from '../../server/inbox.ts';
import { createPairing } from '../../server/pairing.ts';
import { createPhotoPreviews } from '../../server/photoPreviews.ts';
import { createUploads } from '../../server/uploads.ts';
import { createWorkerAnalyst } from '../../server/workerAnalyst.ts';
import { formOf, page } from '../helpers/serverUnderTest.ts';
import { temporaryBook } from '../helpers/temporaryBook.ts';

/** Over real connections: what a page that is closed, or a phone that walks away, leaves behind. */
const folder = mkdtempSync(join(tmpdir(), 'tonestep-leaving-'));
const diary = join(folder, 'diary');

/** A worker that writes down when it begins a photo and when it ends one; photos of more than 10 bytes take for ever. */
const script = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort, threadId } from 'node:worker_threads';
    import { appendFileSync } from 'node:fs';
    const say = (line) => appendFileSync(${JSON.stringify(diary)}, line + '\\n');
    parentPort.on('message', async (task) => {
      say('began ' + task.photo.length);
      if (task.photo.length > 10) for (let i = 0; ; i++) { say('works'); await new Promise((r) => setTimeout(r, 20)); }
      say('ended ' + task.photo.length);
      parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } });
    });`)}`,
);

let analyst: Analyst;
let server: Server;
let port = 0;
const logged: string[] = [];
const open = async (timeoutMs: number): Promise<void> => {
  writeFileSync(diary, '');
  logged.splice(0);
  analyst = createWorkerAnalyst(script, { slots: 1, waiting: 1, timeoutMs });
  const previews = createPhotoPreviews(analyst);
  const { fetch } = createApp({
    door: computerDoor(() => port),
    lan: () => [],
    pairing: createPairing(),
    inbox: createInbox(),
    uploads: createUploads(400_000_000),
    analyst,
    previews,
    demos: createDemos([], analyst, previews),
    book: temporaryBook(analyst),
    version: '0.0.0-test',
    page,
    log: createFaultLog({ write: (line: string) => logged.push(line) }),
  });
  server = createAdaptorServer({ fetch }) as Server;
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  port = (server.address() as AddressInfo).port;
};
afterEach(async () => {
  server.closeAllConnections();
  server.close();
  await analyst.close();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const lines = (what: string): number =>
  readFileSync(diary, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith(what)).length;
const until = async (what: () => boolean, ms = 5000): Promise<void> => {
  for (const end = Date.now() + ms; !what() && Date.now() < end; ) await pause(10);
};

/** Sends a photo of so many bytes as the page does; `leave` hangs up. */
const send = async (bytes: number) => {
  const body = new Response(formOf({ photo: new Uint8Array(bytes).fill(bytes) }));
  const type = body.headers.get('content-type') ?? '';
  const content = Buffer.from(await body.arrayBuffer());
  const socket = connect(port, '127.0.0.1');
  let said = '';
  socket.on('data', (text) => {
    said += text;
  });
  socket.on('error', () => undefined);
  socket.write(
    `POST /api/previews HTTP/1.1\r\nHost: localhost:${port}\r\nOrigin: http://localhost:${port}\r\nContent-Type: ${type}\r\nContent-Length: ${content.length}\r\n\r\n`,
  );
  socket.write(content);
  return { leave: () => socket.destroy(), said: () => said };
};

describe('a page that is closed while its photo is read', () => {
  it('stops the worker within 3 s, and the next photo is read at once', async () => {
    await open(60_000);
    const page = await send(20);
    await until(() => lines('began 20') === 1);
    page.leave();
    const next = await send(5);
    await until(() => next.said() !== '');
    expect(next.said()).toMatch(/^HTTP\/1\.1 200/);
    const worked = lines('works');
    await pause(300);
    expect(lines('works')).toBe(worked);
    expect(logged).toEqual([]);
  });

  it('while it still waits its turn: its photo is never begun, and its place is free at once', async () => {
    await open(60_000);
    const first = await send(20);
    await until(() => lines('began 20') === 1);
    const waiting = await send(6);
    await pause(100);
    waiting.leave();
    await pause(100);
    const other = await send(7);
    await pause(100);
    expect(other.said()).toBe('');
    first.leave();
    await until(() => other.said() !== '');
    expect(other.said()).toMatch(/^HTTP\/1\.1 200/);
    expect(lines('began 6')).toBe(0);
    expect(lines('began 7')).toBe(1);
  });

  it('before its photo has arrived whole: nothing is begun', async () => {
    await open(60_000);
    const socket = connect(port, '127.0.0.1');
    socket.on('error', () => undefined);
    socket.write(
      `POST /api/previews HTTP/1.1\r\nHost: localhost:${port}\r\nOrigin: http://localhost:${port}\r\nContent-Type: multipart/form-data; boundary=b\r\nContent-Length: 100000\r\n\r\n--b\r\n`,
    );
    await pause(100);
    socket.destroy();
    const next = await send(5);
    await until(() => next.said() !== '');
    expect(next.said()).toMatch(/^HTTP\/1\.1 200/);
    expect(lines('began')).toBe(1);
  });
});

describe('a server that is full', () => {
  it('answers 503 with the seconds to wait, and takes the photo once there is room', async () => {
    await open(60_000);
    const first = await send(20);
    await until(() => lines('began 20') === 1);
    const second = await send(6);
    await pause(100);
    const third = await send(7);
    await until(() => third.said() !== '');
    expect(third.said()).toMatch(/^HTTP\/1\.1 503/);
    expect(Number(/retry-after: (\d+)/i.exec(third.said())?.[1])).toBeGreaterThan(0);
    first.leave();
    await until(() => second.said() !== '');
    const again = await send(7);
    await until(() => again.said() !== '');
    expect(again.said()).toMatch(/^HTTP\/1\.1 200/);
  });
});

describe('a photo that takes too long', () => {
  it('is answered with 504 after the time that it may take, its worker stopped', async () => {
    await open(400);
    const slow = await send(20);
    await until(() => slow.said() !== '');
    expect(slow.said()).toMatch(/^HTTP\/1\.1 504/);
    expect(slow.said()).toContain('timed-out');
    await pause(100);
    const worked = lines('works');
    await pause(200);
    expect(lines('works')).toBe(worked);
    const next = await send(5);
    await until(() => next.said() !== '');
    expect(next.said()).toMatch(/^HTTP\/1\.1 200/);
  });
});
