import type { Target } from '../analysis/advice/advice.ts';
import type { VerdictSettings } from '../analysis/advice/verdict.ts';
import type { StripPoints } from '../analysis/curve/fitStrips.ts';
import type { Strip } from '../analysis/level/card.ts';
import type { Marks } from '../analysis/locate/marks.ts';
import type { Taps } from '../analysis/locate/taps.ts';
import type { Reading } from '../analysis/reading.ts';
import type { Answers, QuestionName } from './across/questions.ts';
import type { LookAnswer } from './contracts/look.ts';
import type { ReportRequest } from './papers/reportPdf.ts';
import type { SheetContent } from './papers/sheetPdf.ts';
import type { PreviewImage } from './shelf.ts';

/** A further photo of a strip. */
export interface FurtherPhoto {
  readonly photo: Uint8Array;
  readonly key?: string;
  readonly marks?: Marks;
}

export interface ReadTask {
  readonly kind: 'read';
  readonly photo: Uint8Array;
  /** Identifies the photo; given where it is likely to be read again soon, with other marks. */
  readonly key?: string;
  readonly strip: Strip;
  readonly marks?: Marks;
  readonly taps?: Taps;
  /** Further photos of the same strip. */
  readonly also?: readonly FurtherPhoto[];
  /** Earlier strips, fitted together with this one. */
  readonly earlier?: readonly StripPoints[];
  readonly target?: Target | 'marked-swatch';
  readonly seed?: number;
  readonly timerStepSeconds?: number;
  readonly verdictSettings?: Partial<VerdictSettings>;
}

/** A reading and the photo's small picture out of one decoding. */
export interface ReadAndPreviewTask {
  readonly kind: 'read-and-preview';
  readonly read: ReadTask;
  readonly widthPx: number;
}

export interface ReadAndPreview {
  readonly reading: Reading;
  readonly preview: PreviewImage;
}

/** What the steps come to while their marks are being moved. */
export interface LookTask {
  readonly kind: 'look';
  readonly photos: readonly Required<FurtherPhoto>[];
  readonly strip: Strip;
}

export interface PreviewTask {
  readonly kind: 'preview';
  readonly photo: Uint8Array;
  readonly widthPx: number;
}

/** A question about readings that were kept: curves to draw anew, and for a bed the photos of its sheet. */
export interface AskTask<N extends QuestionName = QuestionName> {
  readonly kind: 'ask';
  readonly name: N;
  /** As it was sent. */
  readonly json: unknown;
  readonly photos?: readonly Uint8Array[];
}

/** A reading to put on paper; the photo as it was taken, null where there is none. */
export interface PaperTask {
  readonly kind: 'paper';
  readonly report: Omit<ReportRequest, 'photo'>;
  readonly photo: Uint8Array | null;
}

/** A measuring sheet to print. */
export interface SheetTask {
  readonly kind: 'sheet';
  readonly sheet: SheetContent;
}

export type Task = ReadTask | ReadAndPreviewTask | LookTask | PreviewTask | AskTask | PaperTask | SheetTask;

/** Who does the slow work on photos and curves, off the thread that answers requests. */
export interface Analyst {
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  read(task: ReadTask, caller?: AbortSignal): Promise<Reading>;
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  readAndPreview(task: ReadAndPreviewTask, caller?: AbortSignal): Promise<ReadAndPreview>;
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  look(task: LookTask, caller?: AbortSignal): Promise<LookAnswer>;
  /** @throws AnalysisError; Refusal `busy` or `timed-out`. */
  preview(task: PreviewTask, caller?: AbortSignal): Promise<PreviewImage>;
  /** @throws AnalysisError; Refusal `request-invalid`, `busy` or `timed-out`. */
  ask<N extends QuestionName>(task: AskTask<N>, caller?: AbortSignal): Promise<Answers[N]>;
  /** A PDF. @throws AnalysisError for the photo; Refusal `busy` or `timed-out`. */
  paper(task: PaperTask | SheetTask, caller?: AbortSignal): Promise<Uint8Array>;
  close(): Promise<void>;
}
