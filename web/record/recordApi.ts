import type { PreviewAnswer } from '../../server/contracts/answers.ts';
import type { ArchiveAnswer } from '../../server/contracts/archive.ts';
import type { ComparisonAnswer } from '../../server/contracts/comparison.ts';
import type { DriftAnswer } from '../../server/contracts/drift.ts';
import type { Marks, Taps } from '../../server/contracts/marks.ts';
import type { Reading } from '../../server/contracts/reading.ts';
import type { ReadOptions } from '../../server/contracts/readOptions.ts';
import type {
  AgainRequest,
  KeepContext,
  KeptReading,
  ReadingList,
} from '../../server/contracts/recordReadings.ts';
import type { Sky } from '../../server/contracts/recordText.ts';
import type { Batch, Cloth, Dye, Light, RecordPlan } from '../../server/contracts/recordThings.ts';
import type {
  BookAnswer,
  Control,
  Feedback,
  Note,
  Print,
  RowKind,
  RowState,
  Today,
} from '../../server/contracts/recordUse.ts';
import type { StripDescription } from '../../server/contracts/strip.ts';
import type { Target } from '../../server/contracts/target.ts';
import { answered, formWith, send } from '../api.ts';
import type { Outcome } from '../today/outcome.ts';

const ROOT = '/api/record';

const get = async <T>(path: string): Promise<T> => answered<T>(await send(`${ROOT}${path}`));

const sendJson = async <T>(method: 'POST' | 'PATCH', address: string, body: unknown): Promise<T> =>
  answered<T>(
    await send(address, {
      method,
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    }),
  );

const queryOf = (fields: Readonly<Record<string, string | number | boolean | null | undefined>>): string => {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(fields))
    if (value !== null && value !== undefined && value !== '') query.set(name, String(value));
  return query.size === 0 ? '' : `?${query}`;
};

export const fetchBook = (): Promise<BookAnswer> => get('');

export const fetchDyes = async (): Promise<readonly Dye[]> =>
  (await get<{ dyes: readonly Dye[] }>('/dyes?limit=500')).dyes;
export const fetchCloths = async (): Promise<readonly Cloth[]> =>
  (await get<{ cloths: readonly Cloth[] }>('/cloths?limit=500')).cloths;
export const fetchLights = async (): Promise<readonly Light[]> =>
  (await get<{ lights: readonly Light[] }>('/lights?limit=500')).lights;
export const fetchBatches = async (): Promise<readonly Batch[]> =>
  (await get<{ batches: readonly Batch[] }>('/batches?limit=500')).batches;

export const fetchPlans = async (): Promise<readonly RecordPlan[]> =>
  (await get<{ plans: readonly RecordPlan[] }>('/plans?limit=500')).plans;

/** Keeps a plan under the id that its sheet bears. */
export const keepPlanInBook = (
  plan: Pick<RecordPlan, 'id' | 'name' | 'seconds' | 'plan'>,
): Promise<RecordPlan> => sendJson('POST', `${ROOT}/plans`, plan);

export const makeBatch = (name: string, dyeId: string | null, mixedAt: string): Promise<Batch> =>
  sendJson('POST', `${ROOT}/batches`, { name, dyeId, mixedAt });

export interface ListWish {
  readonly dyeId?: string;
  readonly clothId?: string;
  readonly lightId?: string;
  readonly purpose?: string;
  readonly text?: string;
  readonly away?: boolean;
  /** Also those that a later reading of their photo stands in for. */
  readonly superseded?: boolean;
  readonly offset?: number;
  readonly limit?: number;
}

export const fetchReadings = (wish: ListWish): Promise<ReadingList> =>
  get(`/readings${queryOf({ ...wish })}`);

export const fetchKept = (id: string): Promise<KeptReading> => get(`/readings/${id}`);

/** The address of a kept photo as it was sent. */
export const keptPhotoHref = (sha256: string): string => `${ROOT}/photos/${sha256}`;

export const fetchKeptPreview = (sha256: string): Promise<PreviewAnswer> => get(`/photos/${sha256}/preview`);

export interface KeepWish {
  readonly photo: Blob;
  readonly strip: StripDescription;
  /** Only where a person set them. */
  readonly marks: Marks | null;
  readonly target: Target;
  /** Where a person tapped to have card and strip found. */
  readonly taps: Taps | null;
  /** Further photos of the strip, with marks where a person set them. */
  readonly also: readonly { readonly photo: Blob; readonly marks: Marks | null }[];
  /** The workshop's timer and thresholds. */
  readonly options: ReadOptions;
  readonly context: Partial<KeepContext>;
}

export const keepReading = async ({
  photo,
  strip,
  marks,
  taps,
  target,
  also,
  options,
  context,
}: KeepWish): Promise<KeptReading> => {
  const form = formWith(photo);
  form.set('strip', JSON.stringify(strip));
  if (marks) form.set('marks', JSON.stringify(marks));
  else if (taps) form.set('taps', JSON.stringify(taps));
  form.set('target', JSON.stringify(target));
  for (const { photo } of also) form.append('also', photo, 'also');
  if (also.some((other) => other.marks !== null))
    form.set('alsoMarks', JSON.stringify(also.map((other) => other.marks)));
  for (const [name, value] of Object.entries(options)) form.set(name, JSON.stringify(value));
  form.set('context', JSON.stringify(context));
  return answered(await send(`${ROOT}/readings`, { method: 'POST', body: form }));
};

export const readKeptAgain = (id: string, wish: Partial<AgainRequest>): Promise<KeptReading> =>
  sendJson('POST', `${ROOT}/readings/${id}/again`, wish);

export const putAway = (kind: RowKind, id: string): Promise<RowState> =>
  sendJson('POST', `${ROOT}/put-away`, { kind, id });
export const bringBack = (kind: RowKind, id: string): Promise<RowState> =>
  sendJson('POST', `${ROOT}/bring-back`, { kind, id });

export const fetchNotes = async (kind: RowKind, id: string, away: boolean): Promise<readonly Note[]> =>
  (await get<{ notes: readonly Note[] }>(`/notes${queryOf({ kind, id, away })}`)).notes;
export const writeNote = (kind: RowKind, id: string, text: string): Promise<Note> =>
  sendJson('POST', `${ROOT}/notes`, { on: { kind, id }, text });

export interface TodayWish {
  readonly dyeId: string;
  readonly clothId: string;
  readonly lightId: string;
  readonly target: Target;
  readonly batchId: string | null;
  readonly lampHours: number | null;
  readonly sky: Sky | null;
  readonly timerStepSeconds?: number;
}

export const askToday = (wish: TodayWish): Promise<Today> => sendJson('POST', `${ROOT}/today`, wish);

export interface PrintWish extends Omit<TodayWish, 'timerStepSeconds'>, Partial<Outcome> {
  readonly secondsUsed: number;
  readonly calibrationId: string | null;
  readonly id?: string;
  readonly name?: string;
  readonly exposedAt?: string;
  readonly remark?: string;
}

export const keepPrint = (wish: PrintWish): Promise<Print> => sendJson('POST', `${ROOT}/prints`, wish);
/** What came out, in place of what was said before. */
export const sayOutcome = (id: string, outcome: Outcome): Promise<Print> =>
  sendJson('PATCH', `${ROOT}/prints/${id}`, outcome);

interface UseWish {
  readonly dyeId?: string;
  readonly clothId?: string;
  readonly lightId?: string;
}

export interface PrintList {
  readonly prints: readonly Print[];
  readonly total: number;
}

export const fetchPrints = (wish: UseWish & { away?: boolean; limit?: number }): Promise<PrintList> =>
  get(`/prints${queryOf({ ...wish })}`);
export const fetchFeedback = (wish: UseWish): Promise<Feedback> => get(`/feedback${queryOf({ ...wish })}`);
export const fetchControls = async (wish: UseWish & { away?: boolean }): Promise<readonly Control[]> =>
  (await get<{ controls: readonly Control[] }>(`/controls${queryOf({ ...wish, limit: 500 })}`)).controls;

export const keepControl = (readingId: string, setup: string): Promise<Control> =>
  sendJson('POST', `${ROOT}/controls`, { readingId, setup });

export const compareReadings = async (
  readings: readonly Reading[],
  names: readonly string[],
  depthPercent: number,
): Promise<ComparisonAnswer> =>
  sendJson('POST', '/api/comparisons', { readings, names, depthPercent, same: true });

export const chartDrift = (
  records: readonly { date: string; setup: string; lampHours?: number; shiftStops: number }[],
): Promise<DriftAnswer> => sendJson('POST', '/api/drifts', { records });

export const bringArchiveIn = async (archive: Blob): Promise<ArchiveAnswer> =>
  answered(
    await send(`${ROOT}/archive`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/zip' },
      body: archive,
    }),
  );

/** A random UUID, also where the page was not opened by a secure address. */
export const newId = (): string => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
};
