import { batch, signal } from '@preact/signals';
import type { DemoSummary, Preview } from '../server/contracts/answers.ts';
import type { Marks, Taps } from '../server/contracts/marks.ts';
import type { Reading } from '../server/contracts/reading.ts';
import type { KeptReading } from '../server/contracts/recordReadings.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import type { Target } from '../server/contracts/target.ts';
import { goTo, nameDetail, place } from './address.ts';
import {
  Failure,
  fetchDemo,
  fetchDemos,
  fetchPhoto,
  type ReadingRequest,
  sendForPreview,
  sendForReading,
} from './api.ts';
import { type ChosenPhoto, describedStrip, draft, keepDraft, restoreDraft } from './draft.ts';
import { readOptions } from './settings.ts';
import { getFrom, putInto } from './shelf/database.ts';
import { type KeptPicture, layOnShelf, openShelf, previewOf, type ShelfStrip, shelf } from './shelf/shelf.ts';

/** A reading on show, with what it takes to read its photo again. */
export interface Shown {
  /** Names the strip in the page's address. */
  readonly key: string;
  readonly reading: Reading;
  readonly preview: Preview;
  readonly strip: StripDescription;
  readonly demo: DemoSummary | null;
  readonly photo: () => Promise<Blob>;
  /** Further photos of the same strip that were read with it. */
  readonly also: readonly Blob[];
  /** What the book says of it; null where it is not in the book. */
  readonly kept: KeptReading | null;
}

/** What the server is busy with for this page. */
export type Work =
  | { readonly kind: 'idle' }
  | { readonly kind: 'opening-demo' }
  | { readonly kind: 'opening-photo' }
  | { readonly kind: 'reading'; readonly since: number }
  | { readonly kind: 'failed'; readonly failure: Failure };

export const demos = signal<readonly DemoSummary[]>([]);
export const shown = signal<Shown | null>(null);
export const target = signal<Target>({ kind: 'full' });
export const work = signal<Work>({ kind: 'idle' });

const DEMO = 'demo-';

let stopping = new AbortController();

/** Gives up whatever is under way. */
export const stopWork = (): void => {
  stopping.abort();
  work.value = { kind: 'idle' };
};

/** Runs one piece of work; a newer one takes its place. Returns whether it succeeded. */
const during = async (begin: Work, job: (signal: AbortSignal) => Promise<void>): Promise<boolean> => {
  stopping.abort();
  stopping = new AbortController();
  const { signal: stopped } = stopping;
  work.value = begin;
  try {
    await job(stopped);
    if (stopped.aborted) return false;
    work.value = { kind: 'idle' };
    return true;
  } catch (error) {
    if (stopped.aborted) return false;
    work.value = {
      kind: 'failed',
      failure: error instanceof Failure ? error : new Failure('answer-unreadable'),
    };
    return false;
  }
};

const show = (next: Shown): void => {
  batch(() => {
    shown.value = next;
    target.value = next.reading.advice.target;
    if (place.value.view === 'answer') nameDetail(next.key);
  });
};

const openDemo = (id: string): Promise<boolean> =>
  during({ kind: 'opening-demo' }, async (stopped) => {
    const { demo, strip, photoHref, reading, preview } = await fetchDemo(id);
    if (stopped.aborted) return;
    show({
      key: DEMO + id,
      reading,
      preview,
      strip,
      demo,
      kept: null,
      also: [],
      photo: () => fetchPhoto(photoHref),
    });
  });

/** A picture of a photo that no browser can draw by itself, while the server's own is gone. */
const NO_PICTURE = 'data:image/svg+xml,%3Csvg xmlns="http://www.w3.org/2000/svg" width="4" height="3"/%3E';

const fromShelf = ({ key, reading, strip, photo, preview, also = [] }: ShelfStrip): Shown => ({
  key,
  reading,
  strip,
  demo: null,
  kept: null,
  preview: preview
    ? previewOf(preview)
    : { href: NO_PICTURE, photoWidthPx: reading.photo.widthPx, photoHeightPx: reading.photo.heightPx },
  photo: async () => photo,
  also,
});

const KEPT = 'kept-';

/** The address of a kept reading's strip. */
export const keptKey = (id: string): string => KEPT + id;

const showKept = async (kept: KeptReading, stopped: AbortSignal): Promise<void> => {
  const { fetchKeptPreview } = await import('./record/recordApi.ts');
  const { preview } = await fetchKeptPreview(kept.line.photo);
  if (stopped.aborted) return;
  show({
    key: KEPT + kept.line.id,
    reading: kept.reading,
    preview,
    strip: kept.settings.strip,
    demo: null,
    kept,
    photo: () => fetchPhoto(kept.photoHref),
    also: [],
  });
};

const openKept = (id: string): Promise<boolean> =>
  during({ kind: 'opening-photo' }, async (stopped) => {
    const { fetchKept } = await import('./record/recordApi.ts');
    await showKept(await fetchKept(id), stopped);
  });

/** Shows a strip by its key: one of the visitor's own from the shelf, or a demo. */
export const openStrip = async (key: string): Promise<boolean> => {
  if (shown.value?.key === key) return true;
  const own = shelf.value.find((strip) => strip.key === key);
  if (own) {
    stopWork();
    show(fromShelf(own));
    return true;
  }
  if (key.startsWith(KEPT)) return openKept(key.slice(KEPT.length));
  return key.startsWith(DEMO) ? openDemo(key.slice(DEMO.length)) : false;
};

/** Shows what the address asks for; else the visitor's newest strip; else the first demo. */
export const openAnswer = async (): Promise<void> => {
  const { detail } = place.value;
  if (detail === null && shown.value) {
    nameDetail(shown.value.key);
    return;
  }
  if (detail !== null && (await openStrip(detail))) return;
  if (work.value.kind === 'failed') return;
  const [newest] = shelf.value;
  if (newest) await openStrip(newest.key);
  else if (demos.value[0]) await openDemo(demos.value[0].id);
};

const DRAFT_PHOTO = 'draft-photo';

interface KeptPhoto extends KeptPicture {
  readonly file: Blob;
  readonly name: string;
}

const restorePhoto = async (): Promise<void> => {
  try {
    const kept = await getFrom<KeptPhoto>('things', DRAFT_PHOTO);
    if (kept && draft.photo.value === null)
      draft.photo.value = { file: kept.file, name: kept.name, preview: previewOf(kept) };
  } catch {
    // Without storage a reload begins without a photo.
  }
};

const keepPhoto = async ({ file, name, preview }: ChosenPhoto): Promise<void> => {
  try {
    const { photoWidthPx, photoHeightPx, href } = preview;
    const picture = await fetchPhoto(href);
    await putInto('things', { file, name, picture, photoWidthPx, photoHeightPx }, DRAFT_PHOTO);
  } catch {
    // The photo then lives as long as the page.
  }
};

let opened = false;

/** Whether all that the browser kept is back and the demos are listed. */
export const pageIsOpen = (): boolean => opened;

/** Opens the page: what was typed and read before comes back, then the demos are listed. */
export const openPage = async (): Promise<void> => {
  restoreDraft();
  await openShelf();
  await restorePhoto();
  if (place.value.view === 'answer' && shelf.value.length > 0) await openAnswer();
  const listed = await during({ kind: 'opening-demo' }, async () => {
    demos.value = (await fetchDemos()).demos;
  });
  opened = true;
  if (!listed && place.value.view !== 'answer') work.value = { kind: 'idle' };
  if (listed && place.value.view === 'answer' && !shown.value) await openAnswer();
};

/** Takes a photo into the draft and shows the form with it; marks of an earlier photo no longer hold. */
export const choosePhoto = (file: File): Promise<boolean> => {
  if (place.value.view !== 'read') goTo('read');
  return during({ kind: 'opening-photo' }, async (stopped) => {
    const { preview } = await sendForPreview(file, stopped);
    if (stopped.aborted) return;
    batch(() => {
      draft.photo.value = { file, name: file.name, preview };
      draft.marks.value = null;
      draft.also.value = [];
    });
    keepPhoto(draft.photo.value as ChosenPhoto);
    if (preview.planId !== undefined)
      await (await import('./plan/planShelf.ts')).fillFromPlan(preview.planId);
  });
};

/** The server's preview, fetched to be kept; null where it is gone already. */
const pictureOf = async ({ href, photoWidthPx, photoHeightPx }: Preview): Promise<KeptPicture | null> => {
  try {
    return { picture: await fetchPhoto(href), photoWidthPx, photoHeightPx };
  } catch {
    return null;
  }
};

const keepOnShelf = async (now: Shown, readAt: number): Promise<void> => {
  const [photo, preview] = await Promise.all([now.photo(), pictureOf(now.preview)]);
  await layOnShelf({
    key: now.key,
    readAt,
    reading: now.reading,
    strip: now.strip,
    photo,
    preview,
    also: now.also,
  });
};

/** Reads the draft's strip and shows the reading; `taps` where a person showed where card and strip are. */
export const readDraft = async (taps?: Taps): Promise<void> => {
  const photo = draft.photo.value;
  const strip = describedStrip();
  if (!photo || !strip) return;
  keepDraft();
  const done = await during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    const also = draft.also.value.map(({ file }) => file);
    const answer = await sendForReading(
      {
        photo: photo.file,
        strip,
        marks: draft.marks.value,
        target: target.value,
        also,
        options: readOptions(),
        ...(taps && { taps }),
      },
      stopped,
    );
    if (stopped.aborted) return;
    const readAt = Date.now();
    const next = {
      key: `own-${readAt.toString(36)}`,
      ...answer,
      strip,
      demo: null,
      kept: null,
      photo: async () => photo.file,
      also,
    };
    show(next);
    keepOnShelf(next, readAt);
  });
  if (done && shown.value) goTo('answer', shown.value.key);
};

/** What a person says of where things are: marks, or a tap on card and strip to look there. */
export type Placed = { readonly marks: Marks } | { readonly taps: Taps };

const againOf = async ({ photo, also, strip }: Shown, by: Placed): Promise<ReadingRequest> => ({
  photo: await photo(),
  also,
  strip,
  marks: 'marks' in by ? by.marks : null,
  ...('taps' in by && { taps: by.taps }),
  target: target.value,
  options: readOptions(),
});

let following = new AbortController();

/**
 * Lets the reading on show follow marks that are being moved: the newest marks count, a failure changes nothing, and
 * nothing is laid on the shelf before `readAgain`.
 */
export const followMarks = async (marks: Marks): Promise<void> => {
  following.abort();
  following = new AbortController();
  const { signal: stopped } = following;
  const before = shown.value;
  if (!before) return;
  try {
    const answer = await sendForReading(await againOf(before, { marks }), stopped);
    if (!stopped.aborted && shown.value?.key === before.key) shown.value = { ...before, ...answer };
  } catch {
    // What stands against these marks is said when they are read for good.
  }
};

/** Shows a strip again as it was before its marks were moved. */
export const restoreShown = (before: Shown): void => {
  following.abort();
  shown.value = before;
};

/** Reads the photo on show once more, with marks or taps of a person. Returns whether that worked. */
export const readAgain = (by: Placed): Promise<boolean> => {
  following.abort();
  const before = shown.value;
  if (!before) return Promise.resolve(false);
  return during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    if (before.kept && 'marks' in by) {
      const { marks } = by;
      const { readKeptAgain } = await import('./record/recordApi.ts');
      await showKept(
        await readKeptAgain(before.kept.line.id, { marks, options: readOptions(), confirmed: true }),
        stopped,
      );
      return;
    }
    const answer = await sendForReading(await againOf(before, by), stopped);
    if (stopped.aborted) return;
    const next = { ...before, ...answer };
    show(next);
    if (!next.demo) keepOnShelf(next, shelf.value.find(({ key }) => key === next.key)?.readAt ?? Date.now());
  });
};
