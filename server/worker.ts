import { parentPort } from 'node:worker_threads';
import { AnalysisError } from '../analysis/errors.ts';
import type { Task } from './analyst.ts';
import {
  performAsk,
  performLook,
  performPaper,
  performPreview,
  performRead,
  performReadAndPreview,
} from './perform.ts';
import { Refusal } from './refusal.ts';
import type { WorkerAnswer, WorkerValue } from './workerAnalyst.ts';

/** The thread for slow work on photos: one task in, one answer out. */
const port = parentPort;
if (!port) throw new Error('worker.ts runs as a worker thread of the server, not by itself');

const perform = (task: Task): Promise<WorkerValue> => {
  switch (task.kind) {
    case 'read':
      return performRead(task);
    case 'read-and-preview':
      return performReadAndPreview(task);
    case 'look':
      return performLook(task);
    case 'preview':
      return performPreview(task);
    case 'ask':
      return performAsk(task);
    case 'paper':
    case 'sheet':
      return performPaper(task);
  }
};

const answer = async (task: Task): Promise<WorkerAnswer> => {
  try {
    return { kind: 'done', value: await perform(task) };
  } catch (error) {
    if (error instanceof AnalysisError || error instanceof Refusal)
      return {
        kind: 'refused',
        code: error.code,
        message: error.message,
        phrase: error.phrase,
      };
    return {
      kind: 'failed',
      report: error instanceof Error ? (error.stack ?? error.message) : String(error),
    };
  }
};

port.on('message', (task: Task) => {
  answer(task).then((result) => port.postMessage(result));
});
