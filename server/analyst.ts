import type { Target } from '../analysis/advice/advice.ts';
import type { Strip } from '../analysis/level/card.ts';
import type { Marks } from '../analysis/locate/marks.ts';
import type { Reading } from '../analysis/reading.ts';
import type { PreviewImage } from './shelf.ts';

export interface ReadTask {
  readonly kind: 'read';
  readonly photo: Uint8Array;
  readonly strip: Strip;
  readonly marks?: Marks;
  readonly target?: Target;
}

export interface PreviewTask {
  readonly kind: 'preview';
  readonly photo: Uint8Array;
  readonly widthPx: number;
}

export type Task = ReadTask | PreviewTask;

/** Who does the slow work on photos, off the thread that answers requests. */
export interface Analyst {
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  read(task: ReadTask, caller?: AbortSignal): Promise<Reading>;
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  preview(task: PreviewTask, caller?: AbortSignal): Promise<PreviewImage>;
  close(): Promise<void>;
}
