import type { MiddlewareHandler } from 'hono';
import { type Door, originsOf } from '../door.ts';
import { Refusal } from '../refusal.ts';

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Lets only the page itself ask: what changes something needs the page's own origin, and a browser that says that
 * another site is asking is believed. A page on another port of the same name is another site here, though browsers
 * send it along with this one's cookies.
 */
export const originGuard =
  (door: Door): MiddlewareHandler =>
  async (c, next) => {
    const site = c.req.header('sec-fetch-site');
    const foreign = site !== undefined && site !== 'same-origin' && site !== 'none';
    const own = originsOf(door.hosts()).has(c.req.header('origin') ?? '');
    if (foreign || !(own || SAFE.has(c.req.method)))
      throw new Refusal(
        'origin-refused',
        'This request did not come from the Tonestep page. Open the page by the address that the server printed.',
      );
    await next();
  };
