import { afterEach, describe, expect, it } from 'vitest';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import type { Analyst } from '../../server/analyst.ts';
import { Refusal } from '../../server/refusal.ts';
import { createWorkerAnalyst, workersFor } from '../../server/workerAnalyst.ts';

/** A worker thread with the given answer to a task. */
const workerThat = (onTask: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(
      `import { parentPort, threadId } from 'node:worker_threads';
       parentPort.on('message', (task) => { ${onTask} });`,
    )}`,
  );

const TASK = { kind: 'preview', photo: new Uint8Array([1, 2, 3]), widthPx: 100 } as const;
const limits = { waiting: 3, timeoutMs: 5000 };
let analyst: Analyst;

afterEach(() => analyst.close());

describe('the worker thread', () => {
  it('is given the photo and answers for it', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: task.widthPx, photoHeightPx: threadId } });`,
      ),
      limits,
    );
    const one = await analyst.preview(TASK);
    const other = await analyst.preview(TASK);
    expect([...one.jpeg]).toEqual([1, 2, 3]);
    expect(one.photoWidthPx).toBe(100);
    expect(other.photoHeightPx).toBe(one.photoHeightPx);
  });

  it('hands a refusal on with its code and sentence', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `parentPort.postMessage({ kind: 'refused', code: 'photo-damaged', message: 'It breaks off.' });`,
      ),
      limits,
    );
    const error = await analyst.preview(TASK).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(AnalysisError);
    expect(error).toMatchObject({ code: 'photo-damaged', message: 'It breaks off.' });
  });

  it('is stopped after 1 s where it hangs, and the next task gets a fresh one', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `if (task.widthPx === 1) while (true); else parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } });`,
      ),
      { waiting: 3, timeoutMs: 1000 },
    );
    const before = await analyst.preview(TASK);
    const error = await analyst.preview({ ...TASK, widthPx: 1 }).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(Refusal);
    expect(error).toMatchObject({ code: 'timed-out' });
    const after = await analyst.preview(TASK);
    expect(after.photoHeightPx).not.toBe(before.photoHeightPx);
  });

  it('fails the task where it dies, and the next task gets a fresh one', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `if (task.widthPx === 1) process.exit(3); else parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: 1 } });`,
      ),
      limits,
    );
    await expect(analyst.preview({ ...TASK, widthPx: 1 })).rejects.toThrow(/status 3/);
    expect((await analyst.preview(TASK)).photoWidthPx).toBe(1);
  });

  it('is stopped where the caller leaves', async () => {
    analyst = createWorkerAnalyst(workerThat('while (true);'), limits);
    const caller = new AbortController();
    const work = analyst.preview(TASK, caller.signal);
    setTimeout(() => caller.abort(), 50);
    await expect(work).rejects.toThrow(/abort/i);
  });

  it('may finish within 1.5 s what a caller no longer waits for, and goes on with what it has loaded', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `setTimeout(() => parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } }), task.widthPx);`,
      ),
      limits,
    );
    const before = await analyst.preview({ ...TASK, widthPx: 1 });
    const caller = new AbortController();
    const left = analyst.preview({ ...TASK, widthPx: 300 }, caller.signal);
    setTimeout(() => caller.abort(), 50);
    await expect(left).rejects.toThrow(/abort/i);
    const after = await analyst.preview({ ...TASK, widthPx: 1 });
    expect(after.photoHeightPx).toBe(before.photoHeightPx);
  });

  it('that has a photo decoded is given the next task about it', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `setTimeout(() => parentPort.postMessage({ kind: 'done', value: { steps: [], threadId } }), 30);`,
      ),
      { ...limits, slots: 2 },
    );
    const marks = { card: [], steps: [] };
    const strip = parseStrip({ dye: '', cloth: '', light: '', card: 'grey-18', steps: [{ seconds: 1 }] });
    const look = async (key: string): Promise<number> => {
      const answer = await analyst.look({ kind: 'look', photos: [{ photo: TASK.photo, key, marks }], strip });
      return (answer as unknown as { threadId: number }).threadId;
    };
    const [kelp, dulse] = await Promise.all([look('kelp'), look('dulse')]);
    expect(kelp).not.toBe(dulse);
    for (const [key, thread] of [
      ['kelp', kelp],
      ['dulse', dulse],
      ['kelp', kelp],
    ] as const)
      expect([key, await look(key)]).toEqual([key, thread]);
  });

  it('is one of 2 where 2 may run: two tasks that wait for each other both end', async () => {
    // Each answers only when both have arrived, which one thread alone would never see.
    const arrive = `import { parentPort, threadId } from 'node:worker_threads';
      const channel = new BroadcastChannel('arrivals');
      parentPort.on('message', (task) => {
        const answer = () => parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } });
        channel.onmessage = () => { channel.postMessage('seen'); channel.onmessage = null; answer(); };
        channel.postMessage('here');
      });`;
    analyst = createWorkerAnalyst(new URL(`data:text/javascript,${encodeURIComponent(arrive)}`), {
      slots: 2,
      waiting: 3,
      timeoutMs: 5000,
    });
    const [one, other] = await Promise.all([analyst.preview(TASK), analyst.preview(TASK)]);
    expect(one.photoHeightPx).not.toBe(other.photoHeightPx);
  });

  it('that dies while it is idle takes nothing down with it', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } }); setTimeout(() => { throw new Error('late'); }, 20);`,
      ),
      limits,
    );
    const one = await analyst.preview(TASK);
    await new Promise((resolve) => setTimeout(resolve, 200));
    const other = await analyst.preview(TASK);
    expect(other.photoHeightPx).not.toBe(one.photoHeightPx);
  });

  it('that runs out of memory is a photo that is too large, and the next task gets a fresh one', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `if (task.widthPx === 1) { const e = new Error('heap'); e.code = 'ERR_WORKER_OUT_OF_MEMORY'; throw e; }
         parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: 1 } });`,
      ),
      limits,
    );
    const error = await analyst.preview({ ...TASK, widthPx: 1 }).catch((e: unknown) => e);
    expect(error).toMatchObject({ code: 'photo-too-large' });
    expect((await analyst.preview(TASK)).photoWidthPx).toBe(1);
  });
});

describe('workersFor', () => {
  it.each([
    [1, 16e9, 1],
    [2, 16e9, 2],
    [16, 64e9, 4],
    [8, 4e9, 2],
    [8, 1e9, 1],
  ])('%i cores and %d bytes of memory are %i workers', (cores, memory, workers) => {
    expect(workersFor(cores, memory)).toBe(workers);
  });
});
