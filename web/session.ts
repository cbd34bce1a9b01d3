import { batch, signal } from '@preact/signals';
import type { DemoSummary, Preview } from '../server/contracts/answers.ts';
import type { Marks, Taps } from '../server/contracts/marks.ts';
import type { Reading } from '../server/contracts/reading.ts';
import type { KeptReading } from '../server/contracts/recordReadings.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import type { Target } from '../server/contracts/target.ts';
import { goTo, nameDetail, place } from './address.ts';
import { Failure, fetchDemo, fetchDemos, fetchPhoto, sendForPreview } from './api.ts';
import { describedStrip, draft, keepDraft, restoreDraft } from './draft.ts';
import { restoreDraftPhotos } from './draftPhotos.ts';
import { tell } from './parts/Notice.tsx';
import { readOptions } from './settings.ts';
import { pictureOf } from './shelf/pictureOf.ts';
import { type KeptFurther, layOnShelf, openShelf, previewOf, type ShelfStrip, shelf } from './shelf/shelf.ts';
import {
  fetchedOnce,
  learnKey,
  type MarkedSource,
  type PhotoSource,
  readPhotos,
  type StripRequest,
  sourceOf,
} from './stripPhotos.ts';
import { words } from './words.ts';

/** A further photo of the strip on show. */
export interface FurtherShown {
  readonly photo: PhotoSource;
  readonly preview: Preview;
  /** As set by hand; null where they were looked for. */
  readonly marks: Marks | null;
}

/** A reading on show, with what it takes to read its photo again. */
export interface Shown {
  /** Names the strip in the page's address. */
  readonly key: string;
  readonly reading: Reading;
  readonly preview: Preview;
  readonly strip: StripDescription;
  readonly demo: DemoSummary | null;
  readonly photo: PhotoSource;
  /** Further photos of the same strip that were read with it. */
  readonly also: readonly FurtherShown[];
  /** Where a person tapped to have card and strip found; null where nobody had to. */
  readonly taps: Taps | null;
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
  for (const { photo, preview } of [next, ...next.also]) learnKey(photo, preview.photoKey);
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
      taps: null,
      photo: fetchedOnce(() => fetchPhoto(photoHref)),
    });
  });

/** A picture of a photo that no browser can draw by itself, while the server's own is gone. */
const NO_PICTURE = 'data:image/svg+xml,%3Csvg xmlns="http://www.w3.org/2000/svg" width="4" height="3"/%3E';

const noPicture = ({ widthPx, heightPx }: Reading['photo']): Preview => ({
  href: NO_PICTURE,
  photoWidthPx: widthPx,
  photoHeightPx: heightPx,
});

/** A further photo as it was kept; of earlier versions there is the photo alone. */
const furtherFrom = (kept: KeptFurther | Blob, facts: Reading['photo'] | undefined): FurtherShown => {
  const { photo, preview, marks } = kept instanceof Blob ? { photo: kept, preview: null, marks: null } : kept;
  return {
    photo: sourceOf(photo),
    preview: preview
      ? previewOf(preview)
      : noPicture(facts ?? { widthPx: 4, heightPx: 3, format: '', profile: '' }),
    marks,
  };
};

const fromShelf = ({ key, reading, strip, photo, preview, also = [], taps }: ShelfStrip): Shown => ({
  key,
  reading,
  strip,
  demo: null,
  kept: null,
  preview: preview ? previewOf(preview) : noPicture(reading.photo),
  photo: sourceOf(photo),
  also: also.map((other, i) => furtherFrom(other, reading.furtherPhotos?.[i])),
  taps: taps ?? null,
});

const KEPT = 'kept-';

/** The address of a kept reading's strip. */
export const keptKey = (id: string): string => KEPT + id;

const showKept = async (kept: KeptReading, stopped: AbortSignal): Promise<void> => {
  const { fetchKeptPreview, keptPhotoHref } = await import('./record/recordApi.ts');
  const { settings } = kept;
  const others = settings.also ?? [];
  const [{ preview }, ...previews] = await Promise.all(
    [kept.line.photo, ...others.map(({ photo }) => photo)].map(fetchKeptPreview),
  );
  if (stopped.aborted) return;
  show({
    key: KEPT + kept.line.id,
    reading: kept.reading,
    preview,
    strip: kept.settings.strip,
    demo: null,
    kept,
    photo: fetchedOnce(() => fetchPhoto(kept.photoHref)),
    also: others.map(({ photo, marks }, i) => ({
      photo: fetchedOnce(() => fetchPhoto(keptPhotoHref(photo))),
      preview: previews[i].preview,
      marks,
    })),
    taps: settings.taps ?? null,
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

let opened = false;

/** Whether all that the browser kept is back and the demos are listed. */
export const pageIsOpen = (): boolean => opened;

/** Opens the page: what was typed and read before comes back, then the demos are listed. */
export const openPage = async (): Promise<void> => {
  restoreDraft();
  await openShelf();
  await restoreDraftPhotos();
  if (place.value.view === 'answer' && shelf.value.length > 0) await openAnswer();
  const failure = await listDemos();
  opened = true;
  if (place.value.view !== 'answer' || shown.value || work.value.kind !== 'idle') return;
  if (failure) work.value = { kind: 'failed', failure };
  else await openAnswer();
};

/** Lists the demos. Whoever chose a photo meanwhile is not stopped by it. */
const listDemos = async (): Promise<Failure | null> => {
  const listing: Work = { kind: 'opening-demo' };
  if (work.value.kind === 'idle') work.value = listing;
  try {
    demos.value = (await fetchDemos()).demos;
    return null;
  } catch (error) {
    return error instanceof Failure ? error : new Failure('answer-unreadable');
  } finally {
    if (work.value === listing) work.value = { kind: 'idle' };
  }
};

/** Takes a photo into the draft and shows the form with it; marks of an earlier photo no longer hold. */
export const choosePhoto = (file: File): Promise<boolean> => {
  if (place.value.view !== 'read') goTo('read');
  return during({ kind: 'opening-photo' }, async (stopped) => {
    const { preview } = await sendForPreview(file, stopped);
    if (stopped.aborted) return;
    const before = { photo: draft.photo.value, marks: draft.marks.value, also: draft.also.value };
    if (before.photo)
      tell(words.form.replaced, () =>
        batch(() => {
          draft.photo.value = before.photo;
          draft.marks.value = before.marks;
          draft.also.value = before.also;
        }),
      );
    batch(() => {
      draft.photo.value = { file, name: file.name, preview };
      draft.marks.value = null;
      draft.also.value = [];
    });
    if (preview.planId !== undefined)
      await (await import('./plan/planShelf.ts')).fillFromPlan(preview.planId);
  });
};

const keepOnShelf = async (now: Shown, readAt: number): Promise<void> => {
  const [photo, preview, also] = await Promise.all([
    now.photo(),
    pictureOf(now.preview),
    Promise.all(
      now.also.map(async (other) => ({
        photo: await other.photo(),
        preview: await pictureOf(other.preview),
        marks: other.marks,
      })),
    ),
  ]);
  await layOnShelf({
    key: now.key,
    readAt,
    reading: now.reading,
    strip: now.strip,
    photo,
    preview,
    also,
    ...(now.taps && { taps: now.taps }),
  });
};

/** Reads the draft's strip and shows the reading; `taps` where a person showed where card and strip are. */
export const readDraft = async (taps?: Taps): Promise<void> => {
  const photo = draft.photo.value;
  const strip = describedStrip();
  if (!photo || !strip) return;
  keepDraft();
  const done = await during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    const source = sourceOf(photo.file);
    learnKey(source, photo.preview.photoKey);
    const also = draft.also.value.map(({ file, preview, marks }): FurtherShown => {
      const other = sourceOf(file);
      learnKey(other, preview.photoKey);
      return { photo: other, preview, marks };
    });
    const answer = await readPhotos(
      {
        photos: [
          { source, marks: draft.marks.value },
          ...also.map((other) => ({ source: other.photo, marks: other.marks })),
        ],
        strip,
        target: target.value,
        options: readOptions(),
        taps,
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
      photo: source,
      also,
      taps: taps ?? null,
    };
    show(next);
    keepOnShelf(next, readAt);
  });
  if (done && shown.value) goTo('answer', shown.value.key);
};

/** What a person says of where things are: marks for each photo, null to look for them; or taps to look there. */
export type Placed =
  | { readonly marks: readonly [Marks | null, ...(Marks | null)[]] }
  | { readonly taps: Taps };

/** The photos of a strip with marks in their order. */
export const photosWith = <M>({ photo, also }: Shown, [first, ...others]: readonly [M, ...M[]]) =>
  [
    { source: photo, marks: first },
    ...also.map((other, i) => ({ source: other.photo, marks: others[i] })),
  ] as const;

const againOf = (before: Shown, by: Placed): StripRequest => {
  const photos: readonly [MarkedSource, ...MarkedSource[]] =
    'marks' in by
      ? photosWith<Marks | null>(before, by.marks)
      : photosWith<Marks | null>(before, [null, ...before.also.map(({ marks }) => marks)]);
  return {
    photos,
    strip: before.strip,
    taps: ('taps' in by ? by.taps : before.taps) ?? undefined,
    target: target.value,
    options: readOptions(),
  };
};

let following = new AbortController();

/**
 * Lets the reading on show follow marks that are being moved, those of all its photos: the newest marks count, a failure
 * changes nothing, and nothing is laid on the shelf before `readAgain`.
 */
export const followMarks = async (marks: readonly [Marks, ...Marks[]]): Promise<void> => {
  following.abort();
  following = new AbortController();
  const { signal: stopped } = following;
  const before = shown.value;
  if (!before) return;
  try {
    const { reading } = await readPhotos(againOf(before, { marks }), stopped);
    if (!stopped.aborted && shown.value?.key === before.key) shown.value = { ...before, reading };
  } catch {
    // What stands against these marks is said when they are read for good.
  }
};

/** Shows a strip again as it was before its marks were moved. */
export const restoreShown = (before: Shown): void => {
  following.abort();
  if (shown.value?.key === before.key) shown.value = before;
};

/** Brings back a strip of one's own as it was read before; a kept one is put back in place of the later reading. */
export const undoAgain = async (before: Shown): Promise<void> => {
  const now = shown.value;
  if (before.kept) {
    if (!now?.kept || now.kept.line.supersedesId !== before.kept.line.id) return;
    const { putAway } = await import('./record/recordApi.ts');
    await putAway('reading', now.kept.line.id);
    goTo('answer', before.key);
    return;
  }
  if (now?.key === before.key) show(before);
  if (!before.demo)
    keepOnShelf(before, shelf.value.find(({ key }) => key === before.key)?.readAt ?? Date.now());
};

/** Reads the photos on show once more, with marks or taps of a person. Returns whether that worked. */
export const readAgain = (by: Placed): Promise<boolean> => {
  following.abort();
  const before = shown.value;
  if (!before) return Promise.resolve(false);
  return during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    const others = 'marks' in by ? by.marks.slice(1) : before.also.map(({ marks }) => marks);
    if (before.kept) {
      const { readKeptAgain } = await import('./record/recordApi.ts');
      const [first] = 'marks' in by ? by.marks : [null];
      const wish = {
        ...('taps' in by ? { marks: null, taps: by.taps } : first && { marks: first }),
        ...(others.length > 0 && { alsoMarks: [...others] }),
        options: readOptions(),
        confirmed: 'marks' in by,
      };
      await showKept(await readKeptAgain(before.kept.line.id, wish), stopped);
      return;
    }
    const answer = await readPhotos(againOf(before, by), stopped);
    if (stopped.aborted) return;
    const next: Shown = {
      ...before,
      reading: answer.reading,
      also: before.also.map((other, i) => ({ ...other, marks: others[i] ?? null })),
      taps: 'taps' in by ? by.taps : by.marks[0] === null ? before.taps : null,
    };
    show(next);
    if (!next.demo) keepOnShelf(next, shelf.value.find(({ key }) => key === next.key)?.readAt ?? Date.now());
  });
};
