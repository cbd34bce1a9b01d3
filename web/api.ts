import type { Phrase } from '../analysis/phrases.ts';
import type { DemoAnswer, DemoList, PreviewAnswer, ReadingAnswer } from '../server/contracts/answers.ts';
import type { ErrorAnswer, ErrorCode } from '../server/contracts/errors.ts';
import type { LookAnswer, LookQuestion } from '../server/contracts/look.ts';
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

/** A photo with its marks; a text in place of a photo names one that the server still holds. */
interface SentPhoto {
  readonly photo: Blob | string | null;
  readonly marks: Marks | null;
}

export interface ReadingRequest {
  /** All photos of the strip: all sent, or all named. */
  readonly photos: readonly [SentPhoto, ...SentPhoto[]];
  readonly strip: StripDescription;
  readonly target: Target;
  /** Where a person tapped on card and strip of the first photo. */
  readonly taps?: Taps | undefined;
  readonly options?: ReadOptions;
}

export const sendForReading = async (
  { photos: [first, ...others], strip, target, taps, options = {} }: ReadingRequest,
  signal: AbortSignal,
): Promise<ReadingAnswer> => {
  const form = first.photo instanceof Blob ? formWith(first.photo) : new FormData();
  const set = (name: string, value: unknown): void => form.set(name, JSON.stringify(value));
  if (!(first.photo instanceof Blob)) set('photoKey', first.photo);
  set('strip', strip);
  if (first.marks) set('marks', first.marks);
  else if (taps) set('taps', taps);
  set('target', target);
  if (others.some(({ marks }) => marks !== null))
    set(
      'alsoMarks',
      others.map(({ marks }) => marks),
    );
  for (const { photo } of others) if (photo instanceof Blob) form.append('also', photo, 'also');
  const named = others.flatMap(({ photo }) => (typeof photo === 'string' ? [photo] : []));
  if (named.length > 0) set('alsoKeys', named);
  for (const [name, value] of Object.entries(options)) set(name, value);
  return answered(await send('/api/readings', { method: 'POST', body: form, signal }));
};

export const sendForLook = async (question: LookQuestion, signal: AbortSignal): Promise<LookAnswer> =>
  answered(
    await send('/api/steps', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(question),
      signal,
    }),
  );
