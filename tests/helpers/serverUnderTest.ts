import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Hono } from 'hono';
import type { Analyst } from '../../server/analyst.ts';
import { createApp } from '../../server/app.ts';
import { createDemos, loadDemoEntries } from '../../server/demos.ts';
import { computerDoor } from '../../server/door.ts';
import { createFaultLog } from '../../server/faultLog.ts';
import { createInbox } from '../../server/inbox.ts';
import type { PageFile } from '../../server/pageFiles.ts';
import { createPairing } from '../../server/pairing.ts';
import {
  performAsk,
  performLook,
  performPaper,
  performPreview,
  performRead,
  performReadAndPreview,
} from '../../server/perform.ts';
import { createPhotoPreviews } from '../../server/photoPreviews.ts';
import type { Book } from '../../server/record/book.ts';
import { createUploads } from '../../server/uploads.ts';
import { temporaryBook } from './temporaryBook.ts';

export const PORT = 4747;
export const ORIGIN = `http://localhost:${PORT}`;
export const DEMO_FOLDER = join(import.meta.dirname, '../../fixtures/demo');

/** Does the worker's work in this thread. */
export const directAnalyst: Analyst = {
  read: performRead,
  readAndPreview: performReadAndPreview,
  look: performLook,
  preview: performPreview,
  ask: performAsk,
  paper: performPaper,
  close: async () => undefined,
};

export const page: ReadonlyMap<string, PageFile> = new Map([
  [
    '/index.html',
    {
      bytes: new TextEncoder().encode('<!doctype html><title>Tonestep</title>'),
      gzipped: null,
      type: 'text/html; charset=utf-8',
      lasting: false,
    },
  ],
]);

export interface ServerUnderTest {
  readonly app: Hono;
  /** What went to the log, a line each. */
  readonly logged: readonly string[];
  readonly get: (path: string, headers?: Record<string, string>) => Promise<Response>;
  readonly post: (path: string, body: BodyInit, headers?: Record<string, string>) => Promise<Response>;
}

/** The real routes on the real demo photos, asked as the page asks; only the thread is left out. */
export const serverUnderTest = (
  analyst: Analyst = directAnalyst,
  book: Book = temporaryBook(analyst),
): ServerUnderTest => {
  const logged: string[] = [];
  const previews = createPhotoPreviews(analyst);
  const app = createApp({
    door: computerDoor(() => PORT),
    lan: () => [],
    pairing: createPairing(),
    inbox: createInbox(),
    uploads: createUploads(400_000_000),
    analyst,
    previews,
    demos: createDemos(loadDemoEntries(DEMO_FOLDER), analyst, previews),
    book: book,
    version: '0.0.0-test',
    page,
    log: createFaultLog({ write: (line: string) => logged.push(line) }),
  });
  const ask = async (path: string, init: RequestInit): Promise<Response> =>
    app.request(`${ORIGIN}${path}`, init);
  return {
    app,
    logged,
    get: (path, headers = {}) => ask(path, { headers: { host: `localhost:${PORT}`, ...headers } }),
    post: (path, body, headers = {}) =>
      ask(path, {
        method: 'POST',
        body,
        headers: { host: `localhost:${PORT}`, origin: ORIGIN, ...headers },
        ...(body instanceof ReadableStream && { duplex: 'half' }),
      } as RequestInit),
  };
};

/** A demo photo with its strip and marks, as its files hold them. */
export const demoFiles = (name: string) => ({
  photo: new Uint8Array(readFileSync(join(DEMO_FOLDER, `${name}.jpg`))),
  strip: readFileSync(join(DEMO_FOLDER, `${name}.strip.json`), 'utf8'),
  marks: readFileSync(join(DEMO_FOLDER, `${name}.marks.json`), 'utf8'),
});

/** A form as the page sends it. */
export const formOf = (fields: Readonly<Record<string, string | Uint8Array>>): FormData => {
  const form = new FormData();
  for (const [name, value] of Object.entries(fields))
    form.set(name, typeof value === 'string' ? value : new Blob([new Uint8Array(value)]));
  return form;
};
