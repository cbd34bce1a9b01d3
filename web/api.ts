import type { Phrase } from '../analysis/phrases.ts';
import type { DemoAnswer, DemoList, PreviewAnswer, ReadingAnswer } from '../server/contracts/answers.ts';
import type { ErrorAnswer, ErrorCode } from '../server/contracts/errors.ts';
import type { Marks, Taps } from '../server/contracts/marks.ts';
import type { ReadOptions } from '../server/contracts/readOptions.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import type { Target } from '../server/contracts/target.ts';
import type { PageErrorCode } from './words/codes.ts';

/** A request that did not succeed: a code that has words, and the server's own sentence where it sent one. */
export class Failure extends Error {
  readonly code: ErrorCode | PageErrorCode;
  readonly detail: string | null;
  /** The detail for other languages. */
  readonly phrase: Phrase | undefined;

  constructor(code: ErrorCode | PageErrorCode, detail: string | null = null, phrase?: Phrase) {
    super(detail ?? code);
    this.name = 'Failure';
    this.code = code;
    this.detail = detail;
    this.phrase = phrase;
  }
}

const isErrorAnswer = (body: unknown): body is ErrorAnswer =>
  typeof body === 'object' && body !== null && 'error' in body;

export const send = async (address: string, init?: RequestInit): Promise<Response> => {
  let response: Response;
  try {
    response = await fetch(address, init);
  } catch (error) {
    if (init?.signal?.aborted) throw error;
    throw new Failure('server-gone');
  }
  if (response.ok) return response;
  const body: unknown = await response.json().catch(() => null);
  if (isErrorAnswer(body)) {
    const { code, message, phrase } = body.error;
    throw new Failure(code, message, phrase);
  }
  throw new Failure('answer-unreadable', `HTTP ${response.status}`);
};

export const answered = async <T>(response: Response): Promise<T> => {
  try {
    return (await response.json()) as T;
  } catch {
    throw new Failure('answer-unreadable');
  }
};

const MOST_UPLOAD_BYTES = 60_000_000;

export const formWith = (photo: Blob): FormData => {
  if (photo.size > MOST_UPLOAD_BYTES) throw new Failure('upload-too-large');
  const form = new FormData();
  form.set('photo', photo, 'photo');
  return form;
};

export const fetchDemos = async (): Promise<DemoList> => answered(await send('/api/demos'));

export const fetchDemo = async (id: string): Promise<DemoAnswer> =>
  answered(await send(`/api/demos/${encodeURIComponent(id)}`));

export const fetchPhoto = async (href: string): Promise<Blob> => (await send(href)).blob();

export const sendForPreview = async (photo: Blob, signal: AbortSignal): Promise<PreviewAnswer> =>
  answered(await send('/api/previews', { method: 'POST', body: formWith(photo), signal }));

export interface ReadingRequest {
  readonly photo: Blob;
  readonly strip: StripDescription;
  readonly marks: Marks | null;
  readonly target: Target;
  /** Where a person tapped on card and strip. */
  readonly taps?: Taps;
  /** Further photos of the same strip, looked through by themselves. */
  readonly also?: readonly Blob[];
  readonly options?: ReadOptions;
}

export const sendForReading = async (
  { photo, strip, marks, target, taps, also = [], options = {} }: ReadingRequest,
  signal: AbortSignal,
): Promise<ReadingAnswer> => {
  const form = formWith(photo);
  form.set('strip', JSON.stringify(strip));
  if (marks) form.set('marks', JSON.stringify(marks));
  form.set('target', JSON.stringify(target));
  if (taps) form.set('taps', JSON.stringify(taps));
  for (const other of also) form.append('also', other, 'also');
  for (const [name, value] of Object.entries(options)) form.set(name, JSON.stringify(value));
  return answered(await send('/api/readings', { method: 'POST', body: form, signal }));
};
