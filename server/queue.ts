import { Refusal } from './refusal.ts';

export interface QueueLimits {
  /** Jobs that may wait behind the one that runs. */
  readonly waiting: number;
  /** From being accepted to being done. */
  readonly timeoutMs: number;
}

export interface Queue {
  /**
   * Runs `job` when its turn comes, one at a time. The job is given a signal that aborts when the caller leaves or
   * time is up, and must stop then.
   * @throws Refusal `busy` when the queue is full, `timed-out` when the time is up.
   */
  run<T>(job: (signal: AbortSignal) => Promise<T>, caller?: AbortSignal): Promise<T>;
}

/** Rejects as soon as the signal aborts; never resolves. */
const aborted = (signal: AbortSignal): Promise<never> =>
  new Promise((_, reject) => signal.addEventListener('abort', () => reject(signal.reason), { once: true }));

/** One thing at a time, a few waiting, nobody for ever. */
export const createQueue = ({ waiting, timeoutMs }: QueueLimits): Queue => {
  let accepted = 0;
  let tail: Promise<unknown> = Promise.resolve();

  return {
    async run(job, caller) {
      if (accepted > waiting)
        throw new Refusal('busy', 'Tonestep is still reading other photos. Try again in a few seconds.', 5);
      accepted += 1;
      const timeUp = AbortSignal.timeout(timeoutMs);
      const signal = caller ? AbortSignal.any([timeUp, caller]) : timeUp;
      const turn = tail.then(() => {
        signal.throwIfAborted();
        return job(signal);
      });
      tail = turn.catch(() => undefined);
      try {
        return await Promise.race([turn, aborted(signal)]);
      } catch (error) {
        if (timeUp.aborted)
          throw new Refusal(
            'timed-out',
            `This photo took longer than ${Math.round(timeoutMs / 1000)} s. Try it smaller (12 megapixels are plenty).`,
          );
        throw error;
      } finally {
        accepted -= 1;
      }
    },
  };
};
