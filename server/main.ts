import { existsSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { createAdaptorServer } from '@hono/node-server';
import pino from 'pino';
import { createApp } from './app.ts';
import { createDemos, loadDemoEntries } from './demos.ts';
import { packageRoot } from './packageRoot.ts';
import { loadPageFiles } from './pageFiles.ts';
import { createPhotoPreviews } from './photoPreviews.ts';
import { portFrom } from './port.ts';
import { createWorkerAnalyst } from './workerAnalyst.ts';

const LOOPBACK = '127.0.0.1';

const leave = (sentence: string): void => {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
};

const start = (): void => {
  const wanted = portFrom(process.env.PORT);
  if (wanted === null) {
    leave(`PORT is "${process.env.PORT}", which is no port: use a number from 0 to 65535.`);
    return;
  }

  const root = packageRoot(import.meta.url);
  const pageFolder = join(root, 'dist', 'web');
  if (!existsSync(join(pageFolder, 'index.html'))) {
    leave('The page is not built yet. Build it first: npm run build');
    return;
  }
  const analyst = createWorkerAnalyst(new URL('./worker.js', import.meta.url), {
    waiting: 6,
    timeoutMs: 60_000,
  });
  const previews = createPhotoPreviews(analyst);
  const demos = createDemos(loadDemoEntries(join(root, 'fixtures', 'demo')), analyst, previews);
  const log = pino({ base: null }, pino.destination({ dest: 2, sync: true }));

  let port = wanted;
  const app = createApp({
    port: () => port,
    analyst,
    previews,
    demos,
    page: loadPageFiles(pageFolder),
    log,
  });
  const server = createAdaptorServer({ fetch: app.fetch });

  server.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EADDRINUSE')
      leave(`Port ${wanted} is taken by another program. Choose another: PORT=${wanted + 1} npm start`);
    if (error.code === 'EACCES')
      leave(`Port ${wanted} may not be used here. Choose another: PORT=4747 npm start`);
    leave(`The server could not start: ${error.message}`);
  });
  server.listen(wanted, LOOPBACK, () => {
    port = (server.address() as AddressInfo).port;
    process.stdout.write(`Tonestep is open at http://localhost:${port}\n`);
    demos.warmUp();
  });

  const stop = (): void => {
    server.close();
    analyst.close().finally(() => process.exit(0));
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
};

start();
