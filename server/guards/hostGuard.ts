import type { MiddlewareHandler } from 'hono';
import type { Door } from '../door.ts';
import { Refusal } from '../refusal.ts';

/** Turns away requests under any other name, so that a foreign site can't be pointed at this server. */
export const hostGuard =
  (door: Door): MiddlewareHandler =>
  async (c, next) => {
    const host = c.req.header('host')?.toLowerCase();
    if (host === undefined || !door.hosts().has(host))
      throw new Refusal('host-refused', `This server answers only as ${door.address()}.`);
    await next();
  };
