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
});
