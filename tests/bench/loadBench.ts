import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { renderTwelveMegapixels, withComment } from './benchPhoto.ts';
import { built } from './builtServer.ts';
import { percentile } from './tables.ts';

const MOST_TRIES = 200;
const SETTLE_MS = 5000;
const ALONE = 9;

interface Outcome {
  readonly status: number;
  readonly tries: number;
  readonly ms: number;
}

/** Sends until answered otherwise than with 503, and waits as long as each 503 says. */
const sendAsTold = async (address: string, form: () => FormData): Promise<Outcome> => {
  const began = performance.now();
  for (let tries = 1; ; tries++) {
    const response = await fetch(address, {
      method: 'POST',
      body: form(),
      headers: { origin: new URL(address).origin },
    });
    await response.arrayBuffer();
    const { status } = response;
    if (status !== 503 || tries >= MOST_TRIES) return { status, tries, ms: performance.now() - began };
    const seconds = Number(response.headers.get('retry-after'));
    if (!(seconds > 0)) throw new Error('a 503 does not say when to come back');
    await new Promise((wake) => setTimeout(wake, 1000 * seconds));
  }
};

/** Resident memory of a process in bytes; null where the system does not tell (Windows). */
const residentBytes = (pid: number | undefined): number | null => {
  try {
    const kilobytes = Number(execFileSync('ps', ['-o', 'rss=', '-p', String(pid)], { encoding: 'utf8' }));
    return kilobytes > 0 ? 1024 * kilobytes : null;
  } catch {
    return null;
  }
};

const megabytes = (bytes: number | null): string =>
  bytes === null ? 'not told by this system' : `${(bytes / 1e6).toFixed(0)} MB`;

const startServer = async (
  folder: string,
  delayFile: string,
): Promise<{ server: ChildProcess; address: string }> => {
  const script = built('server', 'main.js');
  const server = spawn(process.execPath, ['--import', join(import.meta.dirname, 'loopDelay.mjs'), script], {
    env: { ...process.env, PORT: '0', TONESTEP_DATA: folder, LOOP_DELAY_FILE: delayFile },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  for await (const text of server.stdout ?? []) {
    const match = /http:\/\/localhost:\d+/.exec(String(text));
    if (match) return { server, address: match[0] };
  }
  throw new Error('the server did not start');
};

/**
 * What happens when `phones` phones send a 12-megapixel photo at once, to be read and into the inbox? A row a figure.
 * Says so where a photo was not answered with success or is not in the inbox.
 */
export const measureLoad = async (phones = 50): Promise<string[][]> => {
  const scene = await renderTwelveMegapixels();
  const photos = Array.from({ length: phones }, (_, i) => withComment(scene.bytes, `phone ${i}`));
  const form = (photo: Uint8Array<ArrayBuffer>, fields: Readonly<Record<string, string>>) => () => {
    const parts = new FormData();
    parts.set('photo', new Blob([photo]), 'strip.jpg');
    for (const [name, value] of Object.entries(fields)) parts.set(name, value);
    return parts;
  };

  const folder = mkdtempSync(join(tmpdir(), 'tonestep-load-'));
  const delayFile = join(folder, 'delay.json');
  const { server, address } = await startServer(folder, delayFile);
  try {
    await fetch(`${address}/api/demos/hemp-banner-blue`);
    // The demos have been read once: this is how a server stands that nobody asks.
    await new Promise((wake) => setTimeout(wake, SETTLE_MS));
    const idleBytes = residentBytes(server.pid);

    const readForm = (photo: Uint8Array<ArrayBuffer>) =>
      form(photo, { strip: JSON.stringify(scene.strip), marks: JSON.stringify(scene.marks) });
    const foundForm = (photo: Uint8Array<ArrayBuffer>) => form(photo, { strip: JSON.stringify(scene.strip) });
    const alone: number[] = [];
    for (let i = 0; i < ALONE; i++) {
      const { status, ms } = await sendAsTold(
        `${address}/api/readings`,
        foundForm(withComment(scene.bytes, `alone ${i}`)),
      );
      if (status !== 200) throw new Error(`a photo sent alone was answered with ${status}`);
      alone.push(ms);
    }
    server.kill('SIGUSR2');

    let mostBytes = 0;
    const watching = setInterval(() => {
      mostBytes = Math.max(mostBytes, residentBytes(server.pid) ?? 0);
    }, 500);

    const pageMs: number[] = [];
    let loaded = false;
    const visitor = (async () => {
      while (!loaded) {
        const began = performance.now();
        await (await fetch(`${address}/`)).arrayBuffer();
        pageMs.push(performance.now() - began);
        await new Promise((wake) => setTimeout(wake, 100));
      }
    })();

    const began = performance.now();
    const read = await Promise.all(
      photos.map((photo) => sendAsTold(`${address}/api/readings`, readForm(photo))),
    );
    const readMs = performance.now() - began;
    const kept = await Promise.all(
      photos.map((photo) => sendAsTold(`${address}/api/inbox`, form(photo, {}))),
    );
    const inbox = (await (await fetch(`${address}/api/inbox`)).json()) as { photos: unknown[] };
    loaded = true;
    await visitor;
    clearInterval(watching);

    const ended = once(server, 'exit');
    server.kill('SIGTERM');
    await ended;
    const delay = JSON.parse(readFileSync(delayFile, 'utf8'));
    const succeeded = (outcomes: readonly Outcome[]) =>
      outcomes.filter((o) => o.status === 200 || o.status === 201).length;
    const seconds = (outcomes: readonly Outcome[], p: number) =>
      (
        percentile(
          outcomes.map((o) => o.ms),
          p,
        ) / 1000
      ).toFixed(1);
    return [
      ['memory, nobody asking', megabytes(idleBytes), 'resident, after the demos were read'],
      [
        'one photo alone',
        `${(percentile(alone, 50) / 1000).toFixed(2)} s`,
        `12 MP, card and strip found; median of ${ALONE} from sending to the answer`,
      ],
      ['photos sent at once', String(phones), `${(scene.bytes.length / 1e6).toFixed(1)} MB, 12 MP each`],
      [
        'read',
        `${succeeded(read)} of ${phones}`,
        `lost ${phones - succeeded(read)}`,
        `told to wait ${read.reduce((sum, o) => sum + o.tries - 1, 0)} times`,
      ],
      [
        'time to the reading',
        `${(readMs / 1000).toFixed(1)} s in all`,
        `median ${seconds(read, 50)} s`,
        `slowest ${seconds(read, 100)} s`,
      ],
      [
        'readings a minute',
        ((60_000 * succeeded(read)) / readMs).toFixed(0),
        'marks given, all phones together',
      ],
      [
        'kept in the inbox',
        `${inbox.photos.length} of ${phones}`,
        `lost ${phones - Math.min(inbox.photos.length, succeeded(kept))}`,
        `slowest ${seconds(kept, 100)} s`,
      ],
      [
        'event-loop delay',
        `p50 ${delay.p50.toFixed(0)} ms`,
        `p99 ${delay.p99.toFixed(0)} ms`,
        `max ${delay.max.toFixed(0)} ms`,
      ],
      ['page meanwhile', `p95 ${percentile(pageMs, 95).toFixed(0)} ms`, `${pageMs.length} times opened`],
      ['memory meanwhile', megabytes(mostBytes || null), 'resident, largest of one look each half second'],
      ['peak memory', `${(delay.peakBytes / 1e6).toFixed(0)} MB`, 'whole server'],
    ];
  } finally {
    server.kill('SIGKILL');
    if (server.exitCode === null && server.signalCode === null) await once(server, 'exit');
    rmSync(folder, { recursive: true, force: true });
  }
};
