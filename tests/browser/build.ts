import { resolve } from 'node:path';
import { build } from 'vite';

const root = resolve(import.meta.dirname, '../..');

/** Builds page and server as `npm run build` does, once before all browser tests. */
export default async function setup(): Promise<void> {
  for (const configFile of ['vite.config.ts', 'vite.server.config.ts'])
    await build({ configFile: resolve(root, configFile), logLevel: 'error' });
}
