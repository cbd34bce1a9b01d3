import { existsSync } from 'node:fs';

/** The built worker beside the running script; null where the program runs from its sources, without a build. */
export const workerScript = (): URL | null => {
  const script = new URL('./worker.js', import.meta.url);
  return existsSync(script) ? script : null;
};
