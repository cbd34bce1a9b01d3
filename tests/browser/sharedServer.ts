import { inject } from 'vitest';
import type { TestProject } from 'vitest/node';
import { complaintsIn, type RunningServer, startServer } from './runningServer.ts';

declare module 'vitest' {
  interface ProvidedContext {
    readonly sharedServer: Pick<RunningServer, 'address' | 'port' | 'complaintsFile'>;
  }
}

/** One server for all files that need no book of their own: it reads the demos once. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { address, port, complaintsFile, stop } = await startServer();
  project.provide('sharedServer', { address, port, complaintsFile });
  return stop;
}

/** The server that stands for the whole run; it ends with it. */
export const sharedServer = (): RunningServer => {
  const { address, port, complaintsFile } = inject('sharedServer');
  return {
    address,
    port,
    networkAddress: null,
    complaintsFile,
    complaints: () => complaintsIn(complaintsFile),
    signal: () => {
      throw new Error('the shared server is not for one file to signal');
    },
    stop: async () => {
      throw new Error('the shared server ends with the run');
    },
  };
};
