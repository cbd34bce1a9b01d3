import type { MiddlewareHandler } from 'hono';
import { Refusal } from '../refusal.ts';

const NAMES = ['localhost', '127.0.0.1', '[::1]'];

/** The Host headers under which this machine reaches a server on its own loopback. */
export const loopbackHosts = (port: number): ReadonlySet<string> =>
  new Set(NAMES.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`])));

/** The origins that the page itself can have. */
export const loopbackOrigins = (port: number): ReadonlySet<string> =>
  new Set(NAMES.map((name) => (port === 80 ? `http://${name}` : `http://${name}:${port}`)));

/** Turns away requests under any other name, so that a foreign site can't be pointed at this server. */
export const hostGuard =
  (port: () => number): MiddlewareHandler =>
  async (c, next) => {
    const host = c.req.header('host')?.toLowerCase();
    if (host === undefined || !loopbackHosts(port()).has(host))
      throw new Refusal('host-refused', `This server answers only as http://localhost:${port()}.`);
    await next();
  };
