import { phrase } from '../analysis/phrases.ts';
import { Refusal } from './refusal.ts';

export interface QueueLimits {
  /** Jobs that run at the same time; one when left out. */
  readonly slots?: number;
  /** Jobs that may wait behind those that run. */
  readonly waiting: number;
  /** From being accepted to being done. */
  readonly timeoutMs: number;
}

export interface Queue {
  /**
   * Runs `job` when its turn comes, first come, first served. The job is given a signal that aborts when the caller
   * leaves or time is up, and must stop then.
   * @throws Refusal `busy` when the queue is full, with the time after which there should be room; `timed-out` when
   *   the time is up.
   */
  run<T>(job: (signal: AbortSignal) => Promise<T>, caller?: AbortSignal): Promise<T>;
}

const FIRST_GUESS_MS = 1500;
const LONGEST_RETRY_SECONDS = 30;

/** A few things at a time, a few waiting, nobody for ever. */
export const createQueue = ({ slots = 1, waiting, timeoutMs }: QueueLimits): Queue => {
  const waiters: (() => void)[] = [];
  let running = 0;
  let usualMs = FIRST_GUESS_MS;

  const leave = (): void => {
    const next = waiters.shift();
    if (next) next();
    else running -= 1;
  };

  /** Settles when a slot is ours; a waiter that gives up frees its place at once. */
  const turn = (signal: AbortSignal): Promise<void> => {
    if (running < slots) {
      running += 1;
      return Promise.resolve();
    }
    return new Promise((resolve, reject) => {
      const giveUp = (): void => {
        waiters.splice(waiters.indexOf(go), 1);
        reject(signal.reason);
      };
      const go = (): void => {
        signal.removeEventListener('abort', giveUp);
        resolve();
      };
      waiters.push(go);
      signal.addEventListener('abort', giveUp, { once: true });
    });
  };

  const inTurn = async <T>(job: (signal: AbortSignal) => Promise<T>, signal: AbortSignal): Promise<T> => {
    await turn(signal);
    if (signal.aborted) {
      leave();
      throw signal.reason;
    }
    // The slot is free when the job has ended, not when its caller has heard of it.
    const began = performance.now();
    const done = (async () => job(signal))();
    const settled = (): void => {
      usualMs += 0.2 * (performance.now() - began - usualMs);
      leave();
    };
    done.then(settled, settled);
    return new Promise((resolve, reject) => {
      const stop = (): void => reject(signal.reason);
      signal.addEventListener('abort', stop, { once: true });
      done.then(resolve, reject).finally(() => signal.removeEventListener('abort', stop));
    });
  };

  return {
    async run(job, caller) {
      caller?.throwIfAborted();
      if (running >= slots && waiters.length >= waiting) {
        const untilRoomMs = (usualMs * (waiters.length + 1)) / slots / 2;
        throw new Refusal(
          'busy',
          'Tonestep is still reading other photos. Try again in a few seconds.',
          Math.min(LONGEST_RETRY_SECONDS, Math.max(1, Math.ceil(untilRoomMs / 1000))),
        );
      }
      const timeUp = AbortSignal.timeout(timeoutMs);
      try {
        return await inTurn(job, caller ? AbortSignal.any([timeUp, caller]) : timeUp);
      } catch (error) {
        if (timeUp.aborted && error === timeUp.reason)
          throw new Refusal(
            'timed-out',
            `This photo took longer than ${Math.round(timeoutMs / 1000)} s. Try it smaller (12 megapixels are plenty).`,
            { phrase: phrase('took-long', { seconds: Math.round(timeoutMs / 1000) }) },
          );
        throw error;
      }
    },
  };
};
