/// <reference lib="webworker" />
// Keeps the page's own files in the browser, so that a clock that runs outlives the network and the server.

import { inTime } from './inTime.ts';

/** Filled in by the build: every file of the page, and a fingerprint of them all. */
declare const PAGE_FILES: readonly string[];
declare const PAGE_VERSION: string;

const worker = self as unknown as ServiceWorkerGlobalScope;
/** How long a page that is opened waits for the network: a Wi-Fi that is dead does not always say so. */
const PATIENCE_MS = 3000;
const CACHE = `tonestep-${PAGE_VERSION}`;

const fill = async (): Promise<void> => {
  const cache = await caches.open(CACHE);
  await cache.addAll(PAGE_FILES.map((file) => new Request(file, { cache: 'no-cache' })));
  await worker.skipWaiting();
};

const clear = async (): Promise<void> => {
  for (const name of await caches.keys())
    if (name.startsWith('tonestep-') && name !== CACHE) await caches.delete(name);
  await worker.clients.claim();
};

/** The page itself as the server has it, where it answers soon, else as it was last seen; its other files never change under their names. */
const answer = async (request: Request): Promise<Response> => {
  const cache = await caches.open(CACHE);
  if (request.mode === 'navigate')
    return (await inTime(fetch(request), () => cache.match('./'), PATIENCE_MS)) ?? Response.error();
  return (await cache.match(request)) ?? fetch(request);
};

worker.addEventListener('install', (event) => event.waitUntil(fill()));
worker.addEventListener('activate', (event) => event.waitUntil(clear()));
worker.addEventListener('fetch', (event) => {
  const { pathname, origin } = new URL(event.request.url);
  if (event.request.method !== 'GET' || origin !== location.origin || pathname.includes('/api/')) return;
  event.respondWith(answer(event.request));
});
