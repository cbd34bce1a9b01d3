import { Worker } from 'node:worker_threads';
import { AnalysisError, type AnalysisErrorCode } from '../analysis/errors.ts';
import { type Phrase, phrase } from '../analysis/phrases.ts';
import type { Reading } from '../analysis/reading.ts';
import type { Answers, QuestionName } from './across/questions.ts';
import type { Analyst, AskTask, ReadAndPreview, Task } from './analyst.ts';
import { type ServerErrorCode, serverErrorCode } from './contracts/errors.ts';
import type { LookAnswer } from './contracts/look.ts';
import { createQueue, type QueueLimits } from './queue.ts';
import { Refusal } from './refusal.ts';
import type { PreviewImage } from './shelf.ts';

export type WorkerValue =
  | Reading
  | ReadAndPreview
  | LookAnswer
  | PreviewImage
  | Uint8Array
  | Answers[QuestionName];

export type WorkerAnswer =
  | { readonly kind: 'done'; readonly value: WorkerValue }
  | {
      readonly kind: 'refused';
      readonly code: AnalysisErrorCode | ServerErrorCode;
      readonly message: string;
      readonly phrase: Phrase | null;
    }
  | { readonly kind: 'failed'; readonly report: string };

const isServerCode = (code: AnalysisErrorCode | ServerErrorCode): code is ServerErrorCode =>
  serverErrorCode.safeParse(code).success;

const refusalOf = ({ code, message, phrase }: Extract<WorkerAnswer, { kind: 'refused' }>): Error =>
  isServerCode(code)
    ? new Refusal(code, message, phrase ? { phrase } : {})
    : new AnalysisError(code, message, phrase ? { phrase } : {});

/** What the caller leaving or the clock does to a task that is under way. */
const stoppedBy = (signal: AbortSignal): Error =>
  signal.reason instanceof Error ? signal.reason : new Error('the task was stopped');

/** A reading of a large photo takes about as much memory as this. */
const BYTES_PER_WORKER = 1_500_000_000;
const MOST_WORKERS = 4;

/** How many photos at a time: as many as there are cores, and as memory allows, never more than 4. */
export const workersFor = (cores: number, memoryBytes: number): number =>
  Math.max(1, Math.min(cores, MOST_WORKERS, Math.floor(memoryBytes / BYTES_PER_WORKER)));

/** A thread whose caller left may finish what it does, so that what it has loaded and decoded is not lost. */
const FINISH_MS = 1500;

/** The photo that a task is about, where it may come again. */
const keyOf = (task: Task): string | undefined => {
  switch (task.kind) {
    case 'read':
      return task.key;
    case 'read-and-preview':
      return task.read.key;
    case 'look':
      return task.photos[0].key;
    default:
      return undefined;
  }
};

const OUT_OF_MEMORY = 'ERR_WORKER_OUT_OF_MEMORY';

const failureOf = (error: Error): Error =>
  (error as NodeJS.ErrnoException).code === OUT_OF_MEMORY
    ? new AnalysisError(
        'photo-too-large',
        'Reading this photo took more memory than there is. Crop it to strip and card, or export it smaller.',
        { phrase: phrase('photo-memory', {}) },
      )
    : error;

/**
 * Does the slow work in worker threads, `slots` at a time. A task that is stopped takes its thread down with it, since
 * decoders can't be interrupted; the next task starts a fresh one. One whose caller left may end soon by itself. A photo
 * that comes again goes to the thread that has it decoded, where that is idle.
 */
export const createWorkerAnalyst = (script: URL, limits: QueueLimits): Analyst => {
  const queue = createQueue(limits);
  const all = new Set<Worker>();
  let idle: readonly Worker[] = [];
  const lastKey = new WeakMap<Worker, string>();

  const forget = (worker: Worker): void => {
    all.delete(worker);
    idle = idle.filter((one) => one !== worker);
  };
  const start = (): Worker => {
    const worker = new Worker(script);
    all.add(worker);
    // Held for its whole life: a thread that fails while it is idle must not take the server down.
    worker.on('error', () => forget(worker)).on('exit', () => forget(worker));
    return worker;
  };
  const take = (key: string | undefined): Worker => {
    const knows = key === undefined ? undefined : idle.find((one) => lastKey.get(one) === key);
    const worker = knows ?? idle.at(-1) ?? start();
    idle = idle.filter((one) => one !== worker);
    if (key !== undefined) lastKey.set(worker, key);
    return worker;
  };
  const drop = async (worker: Worker): Promise<void> => {
    forget(worker);
    await worker.terminate();
  };

  const work = (task: Task, signal: AbortSignal): Promise<WorkerValue> => {
    const worker = take(keyOf(task));
    return new Promise((resolve, reject) => {
      let leaving: NodeJS.Timeout | undefined;
      const settle = (finish: () => void): void => {
        clearTimeout(leaving);
        worker.off('message', onMessage).off('error', onError).off('exit', onExit);
        signal.removeEventListener('abort', onAbort);
        finish();
      };
      const onMessage = (answer: WorkerAnswer): void =>
        settle(() => {
          idle = [...idle, worker];
          if (answer.kind === 'done') resolve(answer.value);
          else if (answer.kind === 'refused') reject(refusalOf(answer));
          else reject(new Error(answer.report));
        });
      const onError = (error: Error): void =>
        settle(() => {
          drop(worker);
          reject(failureOf(error));
        });
      const onExit = (code: number): void =>
        settle(() => reject(new Error(`the worker ended with status ${code} before it answered`)));
      // The slot is given on only when the thread is idle or gone, or threads would pile up behind callers who leave.
      const end = (): void => settle(() => drop(worker).then(() => reject(stoppedBy(signal))));
      const onAbort = (): void => {
        if (stoppedBy(signal).name === 'TimeoutError') end();
        else leaving = setTimeout(end, FINISH_MS);
      };
      worker.on('message', onMessage).on('error', onError).on('exit', onExit);
      signal.addEventListener('abort', onAbort, { once: true });
      worker.postMessage(task);
    });
  };
  const inTurn = <T extends WorkerValue>(task: Task, caller?: AbortSignal): Promise<T> =>
    queue.run((signal) => work(task, signal) as Promise<T>, caller);

  return {
    read: (task, caller) => inTurn<Reading>(task, caller),
    readAndPreview: (task, caller) => inTurn<ReadAndPreview>(task, caller),
    look: (task, caller) => inTurn<LookAnswer>(task, caller),
    preview: (task, caller) => inTurn<PreviewImage>(task, caller),
    paper: (task, caller) => inTurn<Uint8Array>(task, caller),
    ask: <N extends QuestionName>(task: AskTask<N>, caller?: AbortSignal) => inTurn<Answers[N]>(task, caller),
    close: async () => {
      await Promise.all([...all].map(drop));
    },
  };
};
