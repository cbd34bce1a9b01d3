import { batch, signal } from '@preact/signals';
import type { DemoSummary, Preview } from '../server/contracts/answers.ts';
import type { Marks } from '../server/contracts/marks.ts';
import type { Reading } from '../server/contracts/reading.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import type { Target } from '../server/contracts/target.ts';
import { Failure, fetchDemo, fetchDemos, fetchPhoto, sendForPreview, sendForReading } from './api.ts';
import { describedStrip, draft, keepDraft, restoreDraft } from './draft.ts';

/** A reading on show, with what it takes to read its photo again. */
export interface Shown {
  readonly reading: Reading;
  readonly preview: Preview;
  readonly strip: StripDescription;
  readonly demo: DemoSummary | null;
  readonly photo: () => Promise<Blob>;
}

/** What the server is busy with for this page. */
export type Work =
  | { readonly kind: 'idle' }
  | { readonly kind: 'opening-demo' }
  | { readonly kind: 'opening-photo' }
  | { readonly kind: 'reading'; readonly since: number }
  | { readonly kind: 'failed'; readonly failure: Failure };

export type View = 'reading' | 'form';

export const demos = signal<readonly DemoSummary[]>([]);
export const shown = signal<Shown | null>(null);
export const target = signal<Target>({ kind: 'full' });
export const work = signal<Work>({ kind: 'idle' });
export const view = signal<View>(location.hash === '#read' ? 'form' : 'reading');

export const goTo = (next: View): void => {
  const hash = next === 'form' ? '#read' : '#';
  if (location.hash !== hash) history.pushState(null, '', next === 'form' ? hash : location.pathname);
  view.value = next;
  if (work.value.kind === 'failed') work.value = { kind: 'idle' };
  scrollTo({ top: 0 });
};

addEventListener('popstate', () => {
  view.value = location.hash === '#read' ? 'form' : 'reading';
});

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

export const openDemo = (id: string): Promise<boolean> =>
  during({ kind: 'opening-demo' }, async (stopped) => {
    const { demo, strip, photoHref, reading, preview } = await fetchDemo(id);
    if (stopped.aborted) return;
    batch(() => {
      shown.value = { reading, preview, strip, demo, photo: () => fetchPhoto(photoHref) };
      target.value = reading.advice.target;
    });
  });

/** Opens the page on the first demo. Nothing of it goes into the form: a printer's own strip is their own. */
export const openPage = async (): Promise<void> => {
  restoreDraft();
  const listed = await during({ kind: 'opening-demo' }, async () => {
    demos.value = (await fetchDemos()).demos;
  });
  const first = demos.value[0];
  if (listed && first) await openDemo(first.id);
};

/** Takes a photo into the draft and shows the form with it; marks of an earlier photo no longer hold. */
export const choosePhoto = (file: File): Promise<boolean> => {
  if (view.value !== 'form') goTo('form');
  return during({ kind: 'opening-photo' }, async (stopped) => {
    const { preview } = await sendForPreview(file, stopped);
    if (stopped.aborted) return;
    batch(() => {
      draft.photo.value = { file, name: file.name, preview };
      draft.marks.value = null;
    });
  });
};

/** Reads the draft's strip and shows the reading. */
export const readDraft = async (): Promise<void> => {
  const photo = draft.photo.value;
  const strip = describedStrip();
  if (!photo || !strip) return;
  keepDraft();
  const done = await during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    const wanted = target.value;
    const answer = await sendForReading(
      { photo: photo.file, strip, marks: draft.marks.value, target: wanted },
      stopped,
    );
    if (stopped.aborted) return;
    batch(() => {
      shown.value = { ...answer, strip, demo: null, photo: async () => photo.file };
      target.value = answer.reading.advice.target;
    });
  });
  if (done) goTo('reading');
};

/** Reads the photo on show once more, with marks corrected by hand. Returns whether that worked. */
export const readAgain = (marks: Marks): Promise<boolean> => {
  const before = shown.value;
  if (!before) return Promise.resolve(false);
  return during({ kind: 'reading', since: Date.now() }, async (stopped) => {
    const photo = await before.photo();
    const answer = await sendForReading({ photo, strip: before.strip, marks, target: target.value }, stopped);
    if (stopped.aborted) return;
    batch(() => {
      shown.value = { ...before, ...answer };
      target.value = answer.reading.advice.target;
    });
  });
};
