import type { MiddlewareHandler } from 'hono';
import type { Door } from '../door.ts';
import { Refusal } from '../refusal.ts';
import { remoteOf } from '../visitor.ts';

/** Turns away connections from beyond the local network, such as a router that passes a port on, cookie or not. */
export const neighbourGuard =
  (door: Door): MiddlewareHandler =>
  async (c, next) => {
    if (!door.lets(remoteOf(c)))
      throw new Refusal('host-refused', 'This server answers only on its own local network.');
    await next();
  };
