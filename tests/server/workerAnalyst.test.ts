import { afterEach, describe, expect, it } from 'vitest';
import { AnalysisError } from '../../analysis/errors.ts';
import type { Analyst } from '../../server/analyst.ts';
import { Refusal } from '../../server/refusal.ts';
import { createWorkerAnalyst } from '../../server/workerAnalyst.ts';

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

  it('is stopped after 400 ms where it hangs, and the next task gets a fresh one', async () => {
    analyst = createWorkerAnalyst(
      workerThat(
        `if (task.widthPx === 1) while (true); else parentPort.postMessage({ kind: 'done', value: { jpeg: task.photo, photoWidthPx: 1, photoHeightPx: threadId } });`,
      ),
      { waiting: 3, timeoutMs: 400 },
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
});
