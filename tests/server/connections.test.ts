import { createServer, type Server } from 'node:http';
import { type AddressInfo, connect, type Socket } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, expect, it } from 'vitest';
import { type ConnectionLimits, limitConnections } from '../../server/connections.ts';

const LIMITS: ConnectionLimits = {
  most: 20,
  mostEach: 3,
  silentMs: 60_000,
  headersMs: 60_000,
  requestMs: 60_000,
  idleMs: 60_000,
};
const servers: Server[] = [];
const sockets: Socket[] = [];
afterEach(() => {
  for (const socket of sockets.splice(0)) socket.destroy();
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

const serverWith = async (limits: Partial<ConnectionLimits> = {}): Promise<number> => {
  const server = createServer({ connectionsCheckingInterval: 50 }, (request, response) => {
    if (request.url === '/never') return;
    request.on('end', () => response.end('ok')).resume();
  });
  limitConnections(server, { ...LIMITS, ...limits });
  servers.push(server);
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  return (server.address() as AddressInfo).port;
};

/** A connection from one of the many addresses that a machine has on its loopback. */
const dial = async (port: number, from = '127.0.0.1') => {
  const socket = connect({ port, host: '127.0.0.1', localAddress: from });
  sockets.push(socket);
  const state = { closed: false, said: '' };
  socket.on('data', (text) => {
    state.said += text;
  });
  socket.on('error', () => undefined);
  socket.on('close', () => {
    state.closed = true;
  });
  await new Promise((settled) => socket.once('connect', settled));
  return { socket, state };
};
const until = async (what: () => boolean, ms = 3000): Promise<void> => {
  for (const end = Date.now() + ms; !what() && Date.now() < end; ) await pause(5);
};
const GET = 'GET / HTTP/1.1\r\nHost: x\r\n\r\n';

// Linux answers on all of 127.0.0.0/8; elsewhere one loopback address stands for all.
const manyAddresses = process.platform === 'linux';

it('lets three connections in from one address, closes the fourth, and lets one in again when one has gone', async () => {
  const port = await serverWith();
  const three = [await dial(port), await dial(port), await dial(port)];
  const fourth = await dial(port);
  await until(() => fourth.state.closed);
  expect(fourth.state.closed).toBe(true);
  expect(three.map(({ state }) => state.closed)).toEqual([false, false, false]);
  three[0].socket.destroy();
  await pause(50);
  const next = await dial(port);
  next.socket.write(GET);
  await until(() => next.state.said !== '');
  expect(next.state.said).toMatch(/^HTTP\/1\.1 200/);
});

it.skipIf(!manyAddresses)('keeps a place for others while one address asks for thousands', async () => {
  const port = await serverWith();
  const greedy = await Promise.all(Array.from({ length: 200 }, () => dial(port, '127.0.0.9')));
  await until(() => greedy.filter(({ state }) => !state.closed).length === 3);
  expect(greedy.filter(({ state }) => !state.closed)).toHaveLength(3);
  const other = await dial(port, '127.0.0.10');
  other.socket.write(GET);
  await until(() => other.state.said !== '');
  expect(other.state.said).toMatch(/^HTTP\/1\.1 200/);
});

it('closes a connection that says nothing for 100 ms, and none that has asked', async () => {
  const port = await serverWith({ silentMs: 100 });
  const silent = await dial(port);
  const asked = await dial(port);
  asked.socket.write(GET);
  await until(() => silent.state.closed);
  expect([silent.state.closed, asked.state.closed]).toEqual([true, false]);
});

it('closes a connection whose headers come a byte at a time', async () => {
  const port = await serverWith({ silentMs: 300 });
  const slow = await dial(port);
  const began = performance.now();
  slow.socket.write('GET / HTTP/1.1\r\nHost: x\r\nX-Long: ');
  const bytes = setInterval(() => slow.socket.write('a'), 20);
  await until(() => slow.state.closed);
  clearInterval(bytes);
  expect(slow.state.closed).toBe(true);
  expect(performance.now() - began).toBeGreaterThan(250);
});

it('ends a request whose body comes a byte at a time, with 408', async () => {
  const port = await serverWith({ requestMs: 300, headersMs: 300 });
  const slow = await dial(port);
  slow.socket.write('POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1000000\r\n\r\n');
  const bytes = setInterval(() => slow.socket.write('x'), 20);
  await until(() => slow.state.closed);
  clearInterval(bytes);
  expect(slow.state.closed).toBe(true);
  expect(slow.state.said).toMatch(/^HTTP\/1\.1 408/);
});

it('closes a connection on which nothing moves for 200 ms, though an answer is waited for', async () => {
  const port = await serverWith({ idleMs: 200 });
  const idle = await dial(port);
  idle.socket.write('GET /never HTTP/1.1\r\nHost: x\r\n\r\n');
  await until(() => idle.state.closed);
  expect(idle.state).toEqual({ closed: true, said: '' });
});
