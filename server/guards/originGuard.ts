import type { MiddlewareHandler } from 'hono';
import { csrf } from 'hono/csrf';
import { loopbackOrigins } from './hostGuard.ts';

/** Lets only the page itself send photos: another site open in the same browser can't. */
export const originGuard = (port: () => number): MiddlewareHandler =>
  csrf({
    origin: (origin) => loopbackOrigins(port()).has(origin),
    secFetchSite: () => false,
  });
