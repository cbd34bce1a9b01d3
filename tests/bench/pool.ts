import { fork } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Measured, measure } from './measure.ts';

export interface Job {
  readonly seed: number;
  readonly options: Parameters<typeof measure>[1];
}

/** Measures all scenes on all cores, in the order given. A scene that fails is named, and counts as failed. */
export const measureAll = (jobs: readonly Job[]): Promise<{ measured: Measured[]; failures: string[] }> =>
  runJobs<Job, Measured>('job.ts', jobs);

/** Hands each job to a child process running this script, which answers with `{id, measured}` or `{id, failure}`. */
export const runJobs = <J extends object, M>(
  script: string,
  jobs: readonly J[],
): Promise<{ measured: M[]; failures: string[] }> =>
  new Promise((resolve) => {
    const results: (M | null)[] = jobs.map(() => null);
    const failures: string[] = [];
    let next = 0;
    let open = 0;
    const workers = Math.min(jobs.length, availableParallelism());
    for (let w = 0; w < workers; w++) {
      const child = fork(join(import.meta.dirname, script), { execArgv: ['--import', 'tsx'] });
      const give = (): void => {
        if (next >= jobs.length) {
          child.disconnect();
          return;
        }
        const id = next++;
        open++;
        child.send({ id, ...jobs[id] });
      };
      child.on('message', (answer: { id: number; measured?: M; failure?: string }) => {
        open--;
        if (answer.measured) results[answer.id] = answer.measured;
        else failures.push(answer.failure ?? 'unknown');
        give();
        if (open === 0 && next >= jobs.length)
          resolve({ measured: results.filter((r): r is Awaited<M> & M => r !== null), failures });
      });
      give();
    }
  });
