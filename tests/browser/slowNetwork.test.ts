import { createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptOffline } from './atTheClock.ts';
import { builtPage } from './builtPage.ts';
import { PHONE } from './openPage.ts';

const built = builtPage();

/** A network that can fall silent: what is asked then is taken, and never answered. */
let silent = false;
let network: Server;

beforeAll(async () => {
  network = createServer((asked, answer) => {
    if (silent) return;
    const on = new URL(asked.url ?? '/', built.server.address);
    const passed = request(
      on,
      { method: asked.method, headers: { ...asked.headers, host: on.host } },
      (from) => {
        answer.writeHead(from.statusCode ?? 502, from.headers);
        from.pipe(answer);
      },
    );
    passed.on('error', () => answer.destroy());
    asked.pipe(passed);
  });
  await new Promise<void>((listening) => network.listen(0, '127.0.0.1', listening));
});

afterAll(() => {
  network.closeAllConnections();
  network.close();
});

describe('on a network that is there and silent', () => {
  it('the clock is back within 10 s of a reload: the page waits 3 s, then the kept one comes', async () => {
    const { port } = network.address() as AddressInfo;
    const { page } = await built.open(`http://127.0.0.1:${port}/#/run`, PHONE);
    await page.locator('h1').waitFor();
    await keptOffline(page);
    silent = true;
    const began = Date.now();
    await page.reload({ waitUntil: 'commit', timeout: 20_000 });
    await page.locator('h1').waitFor();
    const seconds = (Date.now() - began) / 1000;
    expect(seconds).toBeGreaterThan(2.5);
    expect(seconds).toBeLessThan(10);
  });
});
