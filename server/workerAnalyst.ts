import { Worker } from 'node:worker_threads';
import { AnalysisError, type AnalysisErrorCode } from '../analysis/errors.ts';
import type { Reading } from '../analysis/reading.ts';
import type { Answers, QuestionName } from './across/questions.ts';
import type { Analyst, AskTask, Task } from './analyst.ts';
import { type ServerErrorCode, serverErrorCode } from './contracts/errors.ts';
import { createQueue, type QueueLimits } from './queue.ts';
import { Refusal } from './refusal.ts';
import type { PreviewImage } from './shelf.ts';

export type WorkerValue = Reading | PreviewImage | Answers[QuestionName];

export type WorkerAnswer =
  | { readonly kind: 'done'; readonly value: WorkerValue }
  | {
      readonly kind: 'refused';
      readonly code: AnalysisErrorCode | ServerErrorCode;
      readonly message: string;
    }
  | { readonly kind: 'failed'; readonly report: string };

const isServerCode = (code: AnalysisErrorCode | ServerErrorCode): code is ServerErrorCode =>
  serverErrorCode.safeParse(code).success;

const refusalOf = (code: AnalysisErrorCode | ServerErrorCode, message: string): Error =>
  isServerCode(code) ? new Refusal(code, message) : new AnalysisError(code, message);

/** What the caller leaving or the clock does to a task that is under way. */
const stoppedBy = (signal: AbortSignal): Error =>
  signal.reason instanceof Error ? signal.reason : new Error('the task was stopped');

/**
 * Does the slow work in one worker thread, in turn. A task that is stopped takes the thread down with it, since
 * decoders can't be interrupted; the next task starts a fresh one.
 */
export const createWorkerAnalyst = (script: URL, limits: QueueLimits): Analyst => {
  const queue = createQueue(limits);
  let worker: Worker | null = null;

  const drop = (): Promise<unknown> => {
    const old = worker;
    worker = null;
    return old ? old.terminate() : Promise.resolve();
  };

  const ask = (task: Task, signal: AbortSignal): Promise<WorkerValue> => {
    worker ??= new Worker(script);
    const current = worker;
    return new Promise((resolve, reject) => {
      const settle = (finish: () => void): void => {
        current.off('message', onMessage).off('error', onError).off('exit', onExit);
        signal.removeEventListener('abort', onAbort);
        finish();
      };
      const onMessage = (answer: WorkerAnswer): void =>
        settle(() => {
          if (answer.kind === 'done') resolve(answer.value);
          else if (answer.kind === 'refused') reject(refusalOf(answer.code, answer.message));
          else reject(new Error(answer.report));
        });
      const onError = (error: Error): void =>
        settle(() => {
          drop();
          reject(error);
        });
      const onExit = (code: number): void =>
        settle(() => {
          worker = null;
          reject(new Error(`the worker ended with status ${code} before it answered`));
        });
      const onAbort = (): void =>
        settle(() => {
          drop();
          reject(stoppedBy(signal));
        });
      current.on('message', onMessage).on('error', onError).on('exit', onExit);
      signal.addEventListener('abort', onAbort, { once: true });
      current.postMessage(task);
    });
  };

  return {
    read: (task, caller) => queue.run((signal) => ask(task, signal) as Promise<Reading>, caller),
    preview: (task, caller) => queue.run((signal) => ask(task, signal) as Promise<PreviewImage>, caller),
    ask: <N extends QuestionName>(task: AskTask<N>, caller?: AbortSignal) =>
      queue.run((signal) => ask(task, signal) as Promise<Answers[N]>, caller),
    close: async () => {
      await drop();
    },
  };
};
