import { batch, effect, signal } from '@preact/signals';
import type { EvennessAnswer } from '../../server/contracts/evenness.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import { keepJson, keptJson } from '../kept.ts';
import { getFrom, putInto, removeFrom } from '../shelf/database.ts';
import { pictureOf } from '../shelf/pictureOf.ts';
import { type KeptPicture, previewOf } from '../shelf/shelf.ts';
import { BED_TEXTS, type BedShot, bedDraft, type DrawnMap } from './bedDraft.ts';

interface KeptShot {
  readonly file: Blob;
  readonly name: string;
  readonly preview: KeptPicture;
  readonly marks: Marks;
}

/** The sheet's photos and the map drawn from them, as this browser keeps them. */
interface KeptBed {
  readonly photo: KeptShot | null;
  readonly turned: KeptShot | null;
  readonly drawn: { readonly answer: EvennessAnswer; readonly basis: string } | null;
}

const KEY = 'bed-photos';
const TEXTS_KEY = 'tonestep.bed';
/** Marks that are being dragged are kept once the hand rests. */
const REST_MS = 600;

const shotOf = (kept: KeptShot | null | undefined): BedShot | null =>
  kept ? { file: kept.file, name: kept.name, preview: previewOf(kept.preview), marks: kept.marks } : null;

const pictures = new WeakMap<Blob, Promise<KeptPicture | null>>();

const keptOf = async (shot: BedShot | null): Promise<KeptShot | null> => {
  if (!shot) return null;
  const known = pictures.get(shot.file) ?? pictureOf(shot.preview);
  pictures.set(shot.file, known);
  const preview = await known;
  return preview && { file: shot.file, name: shot.name, preview, marks: shot.marks };
};

const restoreTexts = (): void => {
  const kept = keptJson(TEXTS_KEY);
  if (typeof kept !== 'object' || kept === null) return;
  for (const name of BED_TEXTS) {
    const text = (kept as Record<string, unknown>)[name];
    if (typeof text === 'string') bedDraft[name].value = text;
  }
};

let newest = 0;
let waiting: ReturnType<typeof setTimeout> | undefined;

const keepNow = async (photo: BedShot | null, turned: BedShot | null, drawn: DrawnMap | null) => {
  newest += 1;
  const mine = newest;
  try {
    if (!photo) {
      await removeFrom('things', KEY);
      return;
    }
    const kept: KeptBed = { photo: await keptOf(photo), turned: await keptOf(turned), drawn };
    if (mine === newest && kept.photo) await putInto('things', kept, KEY);
  } catch {
    // Where the browser keeps nothing, the photos live as long as the page.
  }
};

let begun: Promise<void> | null = null;
/** True once what was kept is there again. */
export const bedRestored = signal(false);

const begin = async (): Promise<void> => {
  restoreTexts();
  try {
    const kept = await getFrom<KeptBed>('things', KEY);
    if (kept && bedDraft.photo.value === null)
      batch(() => {
        bedDraft.photo.value = shotOf(kept.photo);
        bedDraft.turned.value = shotOf(kept.turned);
        bedDraft.drawn.value = kept.drawn;
      });
  } catch {
    // Without storage one begins without photos.
  }
  bedRestored.value = true;
  effect(() => {
    keepJson(TEXTS_KEY, Object.fromEntries(BED_TEXTS.map((name) => [name, bedDraft[name].value])));
  });
  let first = true;
  effect(() => {
    const now = [bedDraft.photo.value, bedDraft.turned.value, bedDraft.drawn.value] as const;
    if (!first) {
      clearTimeout(waiting);
      waiting = setTimeout(() => keepNow(...now), REST_MS);
    }
    first = false;
  });
};

/** Brings back the sheet's photos, their marks and the map, and keeps them from now on: a phone may end the page. */
export const restoreBed = (): Promise<void> => {
  begun ??= begin();
  return begun;
};
