import { spawnSync } from 'node:child_process';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');

/** A file of the built package; built anew where a source is newer. */
export const built = (...parts: readonly string[]): string => {
  const done = spawnSync(process.execPath, [join(root, 'server', 'boot.mjs'), 'build'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  if (done.status !== 0) throw new Error('the package could not be built');
  return join(root, 'dist', ...parts);
};
