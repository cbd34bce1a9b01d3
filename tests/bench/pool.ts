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
  new Promise((resolve) => {
    const results: (Measured | null)[] = jobs.map(() => null);
    const failures: string[] = [];
    let next = 0;
    let open = 0;
    const workers = Math.min(jobs.length, availableParallelism());
    for (let w = 0; w < workers; w++) {
      const child = fork(join(import.meta.dirname, 'job.ts'), { execArgv: ['--import', 'tsx'] });
      const give = (): void => {
        if (next >= jobs.length) {
          child.disconnect();
          return;
        }
        const id = next++;
        open++;
        child.send({ id, ...jobs[id] });
      };
      child.on('message', (answer: { id: number; measured?: Measured; failure?: string }) => {
        open--;
        if (answer.measured) results[answer.id] = answer.measured;
        else failures.push(answer.failure ?? 'unknown');
        give();
        if (open === 0 && next >= jobs.length)
          resolve({ measured: results.filter((r): r is Measured => r !== null), failures });
      });
      give();
    }
  });
