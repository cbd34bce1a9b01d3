import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lanAddresses } from '../../server/lan.ts';
import { demoFiles, formOf } from '../helpers/serverUnderTest.ts';

const script = resolve(import.meta.dirname, '../../dist/server/main.js');
const [lan] = lanAddresses(networkInterfaces());
const hemp = demoFiles('hemp-banner-blue');

// A machine without a network has no door to try.
describe.skipIf(lan === undefined)('the built server with --lan, over real connections', () => {
  const data = mkdtempSync(join(tmpdir(), 'tonestep-lan-'));
  let server: ChildProcess;
  let computer = '';
  let network = '';
  let cookie = '';

  beforeAll(async () => {
    server = spawn(process.execPath, [script, '--lan'], {
      env: { ...process.env, PORT: '0', TONESTEP_DATA: data },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let said = '';
    for await (const text of server.stdout ?? []) {
      said += text;
      computer = /http:\/\/localhost:\d+/.exec(said)?.[0] ?? '';
      network = /network: (http:\/\/\S+)/.exec(said)?.[1] ?? '';
      if (computer && network) break;
    }
  }, 30_000);

  afterAll(async () => {
    const ended = once(server, 'exit');
    server.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  });

  const json = (body: unknown, origin: string): RequestInit => ({
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json', origin },
  });

  it('prints both addresses, and gives a stranger the page and nothing behind it', async () => {
    expect(network).toContain(lan?.address);
    expect(await (await fetch(network)).text()).toContain('<title>Tonestep');
    expect((await fetch(`${network}/api/demos`)).status).toBe(401);
  });

  it('lets a phone in by its code once, and takes its photo', async () => {
    const { code } = await (
      await fetch(`${computer}/api/pairing`, { method: 'POST', headers: { origin: computer } })
    ).json();
    const answer = await fetch(`${network}/api/pairing/exchange`, json({ code }, network));
    expect(answer.status).toBe(200);
    cookie = (answer.headers.get('set-cookie') ?? '').split(';')[0];
    expect((await fetch(`${network}/api/pairing/exchange`, json({ code }, network))).status).toBe(403);
    const sent = await fetch(`${network}/api/inbox`, {
      method: 'POST',
      body: formOf({ photo: hemp.photo }),
      headers: { cookie, origin: network },
    });
    expect(sent.status).toBe(201);
    const { photos } = await (await fetch(`${computer}/api/inbox`)).json();
    const kept = await fetch(`${computer}${photos[0].photoHref}`);
    expect(new Uint8Array(await kept.arrayBuffer())).toEqual(hemp.photo);
  });

  it('tells the computer of a photo within a second, while the connection stays open', async () => {
    const controller = new AbortController();
    const events = await fetch(`${computer}/api/inbox/events`, { signal: controller.signal });
    const reader = (events.body ?? new ReadableStream()).pipeThrough(new TextDecoderStream()).getReader();
    let text = '';
    const until = async (part: string): Promise<void> => {
      while (!text.includes(part)) text += (await reader.read()).value ?? '';
    };
    await until('event: phones');
    const other = demoFiles('silk-scarf-plum').photo;
    const form = formOf({});
    form.set('photo', new Blob([new Uint8Array(other)]), 'plum.jpg');
    const began = performance.now();
    await fetch(`${network}/api/inbox`, { method: 'POST', body: form, headers: { cookie, origin: network } });
    await until('plum.jpg');
    expect(performance.now() - began).toBeLessThan(1000);
    controller.abort();
  });

  it('reads on for others where a sender leaves in the middle of a reading', async () => {
    const send = (signal?: AbortSignal) =>
      fetch(`${computer}/api/readings`, {
        method: 'POST',
        body: formOf(hemp),
        headers: { origin: computer },
        ...(signal && { signal }),
      });
    const leaver = new AbortController();
    const left = Array.from({ length: 8 }, () => send(leaver.signal).catch(() => 'left'));
    setTimeout(() => leaver.abort(), 60);
    await Promise.all(left);
    expect((await send()).status).toBe(200);
  });

  it('answers a header that breaks its line, a second Host and plain rubbish with a refusal, and goes on', async () => {
    const raw = async (text: string): Promise<string> => {
      const socket = connect(Number(new URL(computer).port), '127.0.0.1');
      socket.end(text);
      let answer = '';
      for await (const piece of socket) answer += piece;
      return answer;
    };
    const host = new URL(computer).host;
    for (const text of [
      'rubbish\r\n\r\n',
      `GET / HTTP/1.1\r\nHost: ${host}\r\nX: a\nb\r\n\r\n`,
      `GET / HTTP/1.1\r\nHost: evil.example\r\nHost: ${host}\r\n\r\n`,
      `POST /api/inbox HTTP/1.1\r\nHost: ${host}\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
      `GET / HTTP/1.1\r\nHost: ${host}\r\n${`X: ${'y'.repeat(90)}\r\n`.repeat(500)}\r\n`,
    ]) {
      const answer = await raw(text);
      expect(answer.split('\r\n')[0], text.slice(0, 80)).toMatch(/^HTTP\/1\.1 4\d\d /);
      expect(answer).not.toMatch(/node_modules|\.js:\d|at \w+ \(/);
    }
    expect((await fetch(computer)).status).toBe(200);
  });
});
