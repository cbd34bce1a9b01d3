import { Hono, type MiddlewareHandler } from 'hono';
import type { Logger } from 'pino';
import type { Analyst } from './analyst.ts';
import { answerError } from './answerError.ts';
import { ENDPOINTS } from './contracts/endpoints.ts';
import type { Demos } from './demos.ts';
import type { Door } from './door.ts';
import { headers } from './guards/headers.ts';
import { hostGuard } from './guards/hostGuard.ts';
import { neighbourGuard } from './guards/neighbourGuard.ts';
import { originGuard } from './guards/originGuard.ts';
import { mayAskBy, pairedGuard } from './guards/pairedGuard.ts';
import { exchangeLimit, uploadLimit } from './guards/uploadLimit.ts';
import { uploadRoom } from './guards/uploadRoom.ts';
import type { Inbox } from './inbox.ts';
import type { PageFile } from './pageFiles.ts';
import type { Pairing } from './pairing.ts';
import type { PhotoPreviews } from './photoPreviews.ts';
import type { Book } from './record/book.ts';
import { Refusal } from './refusal.ts';
import { getDemo, getDemoPhoto, listDemos } from './routes/demos.ts';
import { postEvenness } from './routes/evenness.ts';
import { exchangeRoutes, postArchive } from './routes/exchange.ts';
import {
  deleteInboxPhoto,
  getInbox,
  getInboxEvents,
  getInboxPhoto,
  getInboxPreview,
  postInbox,
} from './routes/inbox.ts';
import { openApiRoutes } from './routes/openApi.ts';
import { getPage } from './routes/page.ts';
import {
  deletePairing,
  deletePhone,
  getPairing,
  getVisitor,
  patchPhone,
  postExchange,
  postPairing,
} from './routes/pairing.ts';
import { getPreview, postPreview } from './routes/previews.ts';
import { postQuestion } from './routes/questions.ts';
import { postReading, postSteps } from './routes/readings.ts';
import { recordRoutes } from './routes/record.ts';
import { getSheet, postSheet } from './routes/sheets.ts';
import type { Uploads } from './uploads.ts';

export interface AppParts {
  /** The way in that this app answers at; everything else is shared by all doors. */
  readonly door: Door;
  /** The page's addresses on the local network, the likeliest first; none without --lan. */
  readonly lan: () => readonly string[];
  readonly pairing: Pairing;
  readonly inbox: Inbox;
  readonly uploads: Uploads;
  readonly analyst: Analyst;
  readonly previews: PhotoPreviews;
  readonly demos: Demos;
  readonly book: Book;
  /** Of this package. */
  readonly version: string;
  readonly page: ReadonlyMap<string, PageFile>;
  readonly log: Logger;
}

const fresh: MiddlewareHandler = async (c, next) => {
  await next();
  if (!c.res.headers.has('Cache-Control')) c.header('Cache-Control', 'no-store');
};

const mayAsk = mayAskBy(ENDPOINTS);

/** The server behind one door, as a table of its addresses. */
export const createApp = (parts: AppParts): Hono => {
  const { door, lan, pairing, inbox, uploads, analyst, previews, demos, book, version, page, log } = parts;
  const app = new Hono();
  app.onError(answerError(log));
  app.notFound(() => {
    throw new Refusal('not-found', 'There is nothing at this address.');
  });

  app.use(headers(door));
  app.use(neighbourGuard(door), hostGuard(door));
  app.use('/api/*', fresh, originGuard(door), pairedGuard(door, pairing, mayAsk));
  app.get('/api/visitor', getVisitor(door, pairing, lan));
  app.post('/api/pairing/exchange', exchangeLimit, postExchange(door, pairing));
  // Streamed to disk: larger than a photo, and never in memory.
  app.post('/api/record/archive', postArchive(book));

  app.use('/api/*', uploadLimit, uploadRoom(uploads, door));
  app.post('/api/pairing', postPairing(pairing, lan));
  app.get('/api/pairing', getPairing(pairing));
  app.delete('/api/pairing', deletePairing(pairing));
  app.patch('/api/pairing/phones/:id', patchPhone(pairing));
  app.delete('/api/pairing/phones/:id', deletePhone(pairing));

  app.post('/api/inbox', postInbox(inbox, door, pairing));
  app.get('/api/inbox', getInbox(inbox));
  app.get('/api/inbox/events', getInboxEvents(inbox, pairing));
  app.get('/api/inbox/:id/photo', getInboxPhoto(inbox));
  app.get('/api/inbox/:id/preview', getInboxPreview(inbox, previews));
  app.delete('/api/inbox/:id', deleteInboxPhoto(inbox));

  app.get('/api/demos', listDemos(demos));
  app.get('/api/demos/:id', getDemo(demos));
  app.get('/api/demos/:id/photo', getDemoPhoto(demos));
  app.post('/api/previews', postPreview(previews));
  app.get('/api/previews/:file', getPreview(previews));
  app.post('/api/readings', postReading(previews));
  app.post('/api/steps', postSteps(analyst, previews));
  app.get('/api/sheets', getSheet(analyst));
  app.post('/api/sheets', postSheet(analyst));
  app.post('/api/plans', postQuestion(analyst, 'plan'));
  app.post('/api/comparisons', postQuestion(analyst, 'comparison'));
  app.post('/api/transfers', postQuestion(analyst, 'transfer'));
  app.post('/api/drifts', postQuestion(analyst, 'drift'));
  app.post('/api/evenness', postEvenness(analyst));
  app.post('/api/evenness/cells', postQuestion(analyst, 'evenness'));
  recordRoutes(app, { book, previews, door, version });
  exchangeRoutes(app, { book, analyst, version, log });
  openApiRoutes(app, version);
  app.all('/api/*', (c) => c.notFound());
  app.get('/*', getPage(page));
  return app;
};
