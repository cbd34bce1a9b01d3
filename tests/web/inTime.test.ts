import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { inTime } from '../../web/offline/inTime.ts';

const PATIENCE_MS = 3000;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const later = <T>(ms: number, value: T): Promise<T> =>
  new Promise((settle) => {
    setTimeout(settle, ms, value);
  });
const kept = async (): Promise<string> => 'kept';
const nothing = async (): Promise<undefined> => undefined;

/** What is answered, and after how many milliseconds. */
const timed = async (
  answer: Promise<string | null>,
): Promise<readonly [answer: string | null, afterMs: number]> => {
  const began = Date.now();
  let ended = began;
  const done = answer.finally(() => {
    ended = Date.now();
  });
  await vi.advanceTimersByTimeAsync(60_000);
  return [await done, ended - began];
};

describe('the page while the network is slow', () => {
  it('is the network’s where it comes within 3 s', async () => {
    expect(await timed(inTime(later(2900, 'network'), kept, PATIENCE_MS))).toEqual(['network', 2900]);
  });

  it('is the kept one after 3 s of silence, and at once where the network is gone', async () => {
    const silent = new Promise<string>(() => undefined);
    expect(await timed(inTime(silent, kept, PATIENCE_MS))).toEqual(['kept', 3000]);
    expect(await timed(inTime(Promise.reject(new TypeError('no network')), kept, PATIENCE_MS))).toEqual([
      'kept',
      0,
    ]);
  });

  it('is the network’s after 20 s where nothing was kept, and none where there is neither', async () => {
    expect(await timed(inTime(later(20_000, 'network'), nothing, PATIENCE_MS))).toEqual(['network', 20_000]);
    const gone = Promise.reject(new TypeError('no network'));
    expect((await timed(inTime<string>(gone, nothing, PATIENCE_MS)))[0]).toBeNull();
  });
});
