import { existsSync } from 'node:fs';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { availableParallelism, networkInterfaces, totalmem } from 'node:os';
import { join } from 'node:path';
import { createAdaptorServer } from '@hono/node-server';
import pino from 'pino';
import { createApp } from './app.ts';
import { limitConnections } from './connections.ts';
import { createDemos, loadDemoEntries } from './demos.ts';
import { computerDoor, type Door, networkDoor } from './door.ts';
import { createFaultLog } from './faultLog.ts';
import { createInbox } from './inbox.ts';
import { diskInboxFiles } from './inboxFiles.ts';
import { lanAddresses } from './lan.ts';
import { packageRoot, packageVersion } from './packageRoot.ts';
import { loadPageFiles } from './pageFiles.ts';
import { createPairing } from './pairing.ts';
import { createPhotoPreviews } from './photoPreviews.ts';
import { portFrom } from './port.ts';
import { createBook } from './record/book.ts';
import { Refusal } from './refusal.ts';
import { startOptions } from './startOptions.ts';
import { dataFolder } from './store/dataFolder.ts';
import { createUploads } from './uploads.ts';
import { createWorkerAnalyst, workersFor } from './workerAnalyst.ts';

const LOOPBACK = '127.0.0.1';
const MOST_UPLOADING_BYTES = 500_000_000;
const WAITING_PER_WORKER = 8;

/** How often the server looks for requests that take too long. */
const CLOCKS = { connectionsCheckingInterval: 5000 };
const CONNECTIONS = { most: 256, silentMs: 15_000, headersMs: 15_000, requestMs: 120_000, idleMs: 300_000 };
/** A phone opens six; on the computer itself everything comes from one address. */
const MOST_EACH = { computer: 256, network: 24 };

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

  const options = startOptions(process.argv.slice(2), lanAddresses(networkInterfaces()));
  if (options.kind === 'refused') {
    leave(options.sentence);
    return;
  }

  const root = packageRoot(import.meta.url);
  const pageFolder = join(root, 'dist', 'web');
  if (!existsSync(join(pageFolder, 'index.html'))) {
    leave('The page is not built yet. Build it first: npm run build');
    return;
  }
  const workers = workersFor(availableParallelism(), totalmem());
  const analyst = createWorkerAnalyst(new URL('./worker.js', import.meta.url), {
    slots: workers,
    waiting: WAITING_PER_WORKER * workers,
    timeoutMs: 120_000,
  });
  const previews = createPhotoPreviews(analyst);
  const demos = createDemos(loadDemoEntries(join(root, 'fixtures', 'demo')), analyst, previews);
  const log = createFaultLog(pino.destination({ dest: 2, sync: true }));

  const book = createBook({
    folder: dataFolder(),
    databaseUrl: process.env.TONESTEP_DATABASE || undefined,
    analyst,
  });
  book.desk().catch((error: unknown) => {
    process.stderr.write(
      `The book can't be used yet; strips can be read all the same. ${error instanceof Refusal ? error.message : String(error)}\n`,
    );
  });

  let port = wanted;
  const portNow = (): number => port;
  const lan = options.kind === 'lan' ? options.addresses : [];
  const networkDoors = lan.map((one) => networkDoor(one, portNow));
  const shared = {
    lan: () => networkDoors.map((door) => door.address()),
    pairing: createPairing(),
    inbox: createInbox({ files: diskInboxFiles(join(dataFolder(), 'inbox')) }),
    uploads: createUploads(MOST_UPLOADING_BYTES),
    analyst,
    previews,
    demos,
    book,
    version: packageVersion(root),
    page: loadPageFiles(pageFolder),
    log,
  };
  const open = (door: Door, host: string, ready: () => void): Server => {
    const { fetch } = createApp({ ...shared, door });
    const server = createAdaptorServer({ fetch, serverOptions: CLOCKS }) as Server;
    limitConnections(server, { ...CONNECTIONS, mostEach: MOST_EACH[door.kind] });
    server.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE')
        leave(`Port ${port} is taken by another program. Choose another: PORT=${port + 1} npm start`);
      if (error.code === 'EACCES')
        leave(`Port ${port} may not be used here. Choose another: PORT=4747 npm start`);
      leave(`The server could not start: ${error.message}`);
    });
    server.listen(port, host, ready);
    return server;
  };

  const servers = [
    open(computerDoor(portNow), LOOPBACK, () => {
      port = (servers[0].address() as AddressInfo).port;
      process.stdout.write(`Tonestep is open at http://localhost:${port}\n`);
      networkDoors.forEach((door, i) => {
        servers.push(
          open(door, lan[i].address, () =>
            process.stdout.write(`For paired phones on this network: ${door.address()}\n`),
          ),
        );
      });
      demos.warmUp();
    }),
  ];

  const stop = (): void => {
    for (const server of servers) server.close();
    Promise.allSettled([book.close(), analyst.close()]).then(() => process.exit(0));
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
};

start();
