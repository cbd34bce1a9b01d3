import { describe, expect, it } from 'vitest';
import { createQueue } from '../../server/queue.ts';
import { Refusal } from '../../server/refusal.ts';

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const refusalOf = async (work: Promise<unknown>): Promise<Refusal> => {
  const error = await work.then(
    () => null,
    (e: unknown) => e,
  );
  if (!(error instanceof Refusal)) throw new Error(`expected a refusal, got ${String(error)}`);
  return error;
};
/** A job that ends when told to. */
const held = () => {
  let release = (): void => undefined;
  const until = new Promise<void>((resolve) => {
    release = resolve;
  });
  return { job: () => until, release };
};

describe('a queue', () => {
  it('does one job at a time, in the order in which they came', async () => {
    const queue = createQueue({ waiting: 5, timeoutMs: 5000 });
    const seen: string[] = [];
    const job = (name: string) => async () => {
      seen.push(`${name} begins`);
      await nextTurn();
      seen.push(`${name} ends`);
      return name;
    };
    expect(await Promise.all([queue.run(job('one')), queue.run(job('two'))])).toEqual(['one', 'two']);
    expect(seen).toEqual(['one begins', 'one ends', 'two begins', 'two ends']);
  });

  it('turns the fourth away where two may wait, and takes it once there is room', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    const first = held();
    const accepted = [queue.run(first.job), queue.run(nextTurn), queue.run(nextTurn)];
    const refusal = await refusalOf(queue.run(nextTurn));
    expect(refusal.code).toBe('busy');
    expect(refusal.retryAfterSeconds).toBeGreaterThan(0);
    first.release();
    await Promise.all(accepted);
    expect(await queue.run(async () => 'taken')).toBe('taken');
  });

  it('gives up a job after 30 ms where 30 ms are allowed, tells it so, and goes on with the next', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 30 });
    let told = false;
    const endless = queue.run(
      (signal) =>
        new Promise<void>((_, reject) => {
          signal.addEventListener('abort', () => {
            told = true;
            reject(signal.reason);
          });
        }),
    );
    expect((await refusalOf(endless)).code).toBe('timed-out');
    expect(told).toBe(true);
    expect(await queue.run(async () => 'next')).toBe('next');
  });

  it('counts the time spent waiting', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 30 });
    const first = held();
    const running = queue.run(first.job).catch(() => undefined);
    let began = false;
    const waiting = queue.run(async () => {
      began = true;
    });
    expect((await refusalOf(waiting)).code).toBe('timed-out');
    first.release();
    await running;
    await nextTurn();
    expect(began).toBe(false);
  });

  it('drops a job whose caller has left', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    const first = held();
    const running = queue.run(first.job);
    const caller = new AbortController();
    let began = false;
    const left = queue.run(async () => {
      began = true;
    }, caller.signal);
    caller.abort();
    await expect(left).rejects.toThrow();
    first.release();
    await running;
    await nextTurn();
    expect(began).toBe(false);
  });

  it('passes a job’s own failure on and goes on with the next', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    const failing = queue.run(async () => {
      throw new Error('broken');
    });
    await expect(failing).rejects.toThrow('broken');
    expect(await queue.run(async () => 'next')).toBe('next');
  });

  it('with 3 slots runs three at a time and starts the fourth when one has ended', async () => {
    const queue = createQueue({ slots: 3, waiting: 2, timeoutMs: 5000 });
    const jobs = [held(), held(), held(), held()];
    let running = 0;
    const done = jobs.map(({ job }) =>
      queue.run(async () => {
        running += 1;
        await job();
      }),
    );
    await nextTurn();
    expect(running).toBe(3);
    jobs[1].release();
    await done[1];
    await nextTurn();
    expect(running).toBe(4);
    for (const { release } of jobs) release();
    await Promise.all(done);
  });

  it('gives the place of a waiter that leaves to the next at once', async () => {
    const queue = createQueue({ waiting: 1, timeoutMs: 5000 });
    const first = held();
    const running = queue.run(first.job);
    const caller = new AbortController();
    const left = queue.run(nextTurn, caller.signal);
    expect((await refusalOf(queue.run(nextTurn))).code).toBe('busy');
    caller.abort();
    await expect(left).rejects.toThrow();
    const next = queue.run(async () => 'next');
    first.release();
    await running;
    expect(await next).toBe('next');
  });

  it('keeps the slot of a job that does not stop, so that never two run where one may', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    const deaf = held();
    const caller = new AbortController();
    const left = queue.run(deaf.job, caller.signal);
    await nextTurn();
    caller.abort();
    await expect(left).rejects.toThrow();
    let began = false;
    const next = queue.run(async () => {
      began = true;
    });
    await nextTurn();
    expect(began).toBe(false);
    deaf.release();
    await next;
    expect(began).toBe(true);
  });

  it('does not begin a job whose caller leaves in the moment in which its turn comes', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    const caller = new AbortController();
    let began = false;
    const left = queue.run(async () => {
      began = true;
    }, caller.signal);
    caller.abort();
    await expect(left).rejects.toThrow();
    expect(await queue.run(async () => 'next')).toBe('next');
    expect(began).toBe(false);
  });

  it('turns away a caller who has left already', async () => {
    const queue = createQueue({ waiting: 2, timeoutMs: 5000 });
    let began = false;
    const work = queue.run(async () => {
      began = true;
    }, AbortSignal.abort());
    await expect(work).rejects.toThrow();
    expect(began).toBe(false);
  });

  it('says to try again within 1 to 30 s', async () => {
    const queue = createQueue({ waiting: 1, timeoutMs: 5000 });
    const first = held();
    const work = [queue.run(first.job), queue.run(nextTurn)];
    const { retryAfterSeconds } = await refusalOf(queue.run(nextTurn));
    expect(retryAfterSeconds).toBeGreaterThanOrEqual(1);
    expect(retryAfterSeconds).toBeLessThanOrEqual(30);
    first.release();
    await Promise.all(work);
  });
});
