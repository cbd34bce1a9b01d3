import { Hono, type MiddlewareHandler } from 'hono';
import type { Logger } from 'pino';
import type { Analyst } from './analyst.ts';
import { answerError } from './answerError.ts';
import type { Demos } from './demos.ts';
import { headers } from './guards/headers.ts';
import { hostGuard } from './guards/hostGuard.ts';
import { originGuard } from './guards/originGuard.ts';
import { uploadLimit } from './guards/uploadLimit.ts';
import type { PageFile } from './pageFiles.ts';
import type { PhotoPreviews } from './photoPreviews.ts';
import { Refusal } from './refusal.ts';
import { getDemo, getDemoPhoto, listDemos } from './routes/demos.ts';
import { getPage } from './routes/page.ts';
import { getPreview, postPreview } from './routes/previews.ts';
import { postReading } from './routes/readings.ts';

export interface AppParts {
  /** The port that the server listens on; known once it listens. */
  readonly port: () => number;
  readonly analyst: Analyst;
  readonly previews: PhotoPreviews;
  readonly demos: Demos;
  readonly page: ReadonlyMap<string, PageFile>;
  readonly log: Logger;
}

const fresh: MiddlewareHandler = async (c, next) => {
  await next();
  if (!c.res.headers.has('Cache-Control')) c.header('Cache-Control', 'no-store');
};

/** The server as a table of its addresses. */
export const createApp = ({ port, analyst, previews, demos, page, log }: AppParts): Hono => {
  const app = new Hono();
  app.onError(answerError(log));
  app.notFound(() => {
    throw new Refusal('not-found', 'There is nothing at this address.');
  });

  app.use(headers);
  app.use(hostGuard(port));
  app.use('/api/*', originGuard(port), uploadLimit, fresh);

  app.get('/api/demos', listDemos(demos));
  app.get('/api/demos/:id', getDemo(demos));
  app.get('/api/demos/:id/photo', getDemoPhoto(demos));
  app.post('/api/previews', postPreview(previews));
  app.get('/api/previews/:file', getPreview(previews));
  app.post('/api/readings', postReading(analyst, previews));
  app.get('/api/*', (c) => c.notFound());
  app.get('/*', getPage(page));
  return app;
};
