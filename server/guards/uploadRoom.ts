import type { MiddlewareHandler } from 'hono';
import type { Door } from '../door.ts';
import { Refusal } from '../refusal.ts';
import type { Uploads } from '../uploads.ts';
import { remoteOf } from '../visitor.ts';
import { MOST_UPLOAD_MB } from './uploadLimit.ts';

const WITH_BODY = new Set(['POST', 'PUT', 'PATCH']);
const RETRY_AFTER_SECONDS = 3;

/** An upload that finds no room in memory is told so before a byte of it is read, and when to try again. */
export const uploadRoom =
  (uploads: Uploads, door: Door): MiddlewareHandler =>
  async (c, next) => {
    if (!WITH_BODY.has(c.req.method)) return next();
    const most = MOST_UPLOAD_MB * 1_000_000;
    // A request that states neither a length nor chunks has no body. Source: RFC 9112, 6.3.
    const stated = c.req.header('transfer-encoding') ? most : Number(c.req.header('content-length') ?? 0);
    const phone = door.kind === 'network' ? remoteOf(c) : undefined;
    const giveBack = uploads.reserve(Number.isFinite(stated) ? Math.min(stated, most) : most, phone);
    if (!giveBack)
      throw new Refusal(
        'busy',
        'Tonestep is taking in other photos. Try again in a few seconds.',
        RETRY_AFTER_SECONDS,
      );
    try {
      await next();
    } finally {
      giveBack();
    }
  };
