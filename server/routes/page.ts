import type { Handler } from 'hono';
import type { PageFile } from '../pageFiles.ts';
import { Refusal } from '../refusal.ts';

/** GET anything else: the files of the page. */
export const getPage =
  (files: ReadonlyMap<string, PageFile>): Handler =>
  (c) => {
    const file = files.get(c.req.path === '/' ? '/index.html' : c.req.path);
    if (!file) throw new Refusal('not-found', 'There is nothing at this address.');
    c.header('Content-Type', file.type);
    c.header('Cache-Control', file.lasting ? 'public, max-age=31536000, immutable' : 'no-cache');
    c.header('Vary', 'Accept-Encoding');
    if (file.gzipped && /\bgzip\b/.test(c.req.header('accept-encoding') ?? '')) {
      c.header('Content-Encoding', 'gzip');
      return c.body(file.gzipped);
    }
    return c.body(file.bytes);
  };
