import { once } from 'node:events';
import { createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { afterEach, describe, expect, it } from 'vitest';
import { type RunningServer, startProcess, startServer } from './runningServer.ts';

let running: RunningServer | null = null;
let other: Server | null = null;

afterEach(async () => {
  await running?.stop();
  running = null;
  other?.close();
  other = null;
});

const outcomeOf = async (port: string): Promise<{ status: number; said: string }> => {
  const child = startProcess(port);
  let said = '';
  child.stderr?.on('data', (text) => {
    said += text;
  });
  const [status] = await once(child, 'exit');
  return { status, said };
};

describe('the built server', () => {
  it('prints its address and serves page and demo there', async () => {
    running = await startServer();
    const page = await fetch(running.address);
    expect(await page.text()).toContain('<title>Tonestep</title>');
    const { demos } = await (await fetch(`${running.address}/api/demos`)).json();
    const demo = await (await fetch(`${running.address}/api/demos/${demos[0].id}`)).json();
    expect(demo.reading.advice.roundedSeconds).toBeGreaterThan(0);
  });

  it('names PORT where its port is taken, on one line, with status 1', async () => {
    other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    const { status, said } = await outcomeOf(String(port));
    expect(status).toBe(1);
    expect(said.trim().split('\n')).toHaveLength(1);
    expect(said).toContain(`Port ${port} is taken`);
    expect(said).toContain(`PORT=${port + 1}`);
  });

  it('says so where PORT is no port', async () => {
    const { status, said } = await outcomeOf('many');
    expect(status).toBe(1);
    expect(said).toContain('PORT is "many"');
  });

  it('listens on loopback only', async () => {
    running = await startServer();
    const { port } = running;
    const outside = Object.values(networkInterfaces())
      .flat()
      .filter((one) => one !== undefined && one.family === 'IPv4' && !one.internal)
      .map((one) => one?.address ?? '');
    for (const host of outside) {
      const refused = await new Promise<boolean>((resolve) => {
        const socket = connect({ host, port, timeout: 2000 });
        socket.once('connect', () => {
          socket.destroy();
          resolve(false);
        });
        for (const event of ['error', 'timeout'] as const) socket.once(event, () => resolve(true));
      });
      expect(refused, `${host} must not answer`).toBe(true);
    }
    const own = await fetch(`http://127.0.0.1:${port}/`);
    expect(own.status).toBe(200);
  });

  it('refuses another Host over a real connection, and goes on serving', async () => {
    running = await startServer();
    const { port } = running;
    const status = await new Promise<number>((resolve, reject) => {
      request(
        { host: '127.0.0.1', port, path: '/api/demos', headers: { host: 'evil.example' } },
        (response) => {
          response.resume();
          resolve(response.statusCode ?? 0);
        },
      )
        .once('error', reject)
        .end();
    });
    expect(status).toBe(403);
    expect((await fetch(running.address)).status).toBe(200);
  });

  it('answers 61 MB with 413 in JSON over a real connection, and goes on serving', async () => {
    running = await startServer();
    const form = new FormData();
    form.set('photo', new Blob([new Uint8Array(61_000_000)]));
    const response = await fetch(`${running.address}/api/previews`, {
      method: 'POST',
      body: form,
      headers: { origin: running.address },
    });
    expect(response.status).toBe(413);
    expect((await response.json()).error.code).toBe('upload-too-large');
    expect((await fetch(running.address)).status).toBe(200);
  });

  it('sends the script compressed to browsers that take gzip', async () => {
    running = await startServer();
    const page = await (await fetch(running.address)).text();
    const [, script] = /src="\.?(\/assets\/[^"]+\.js)"/.exec(page) ?? [];
    const response = await fetch(`${running.address}${script}`);
    expect(response.headers.get('content-encoding')).toBe('gzip');
    expect(response.headers.get('cache-control')).toContain('immutable');
  });
});
