import { batch, effect } from '@preact/signals';
import type { Marks } from '../server/contracts/marks.ts';
import { type ChosenPhoto, draft } from './draft.ts';
import { getFrom, putInto } from './shelf/database.ts';
import { pictureOf } from './shelf/pictureOf.ts';
import { type KeptPicture, previewOf } from './shelf/shelf.ts';

interface KeptDraftPhoto {
  readonly file: Blob;
  readonly name: string;
  readonly preview: KeptPicture;
  readonly marks: Marks | null;
}

const KEY = 'draft-photos';
/** Marks that are being dragged are kept once the hand rests. */
const REST_MS = 600;

const chosen = ({ file, name, preview }: KeptDraftPhoto): ChosenPhoto => ({
  file,
  name,
  preview: previewOf(preview),
});

/** Brings back photos that were chosen and not yet read, with the marks that were placed on them. */
export const restoreDraftPhotos = async (): Promise<void> => {
  try {
    const [first, ...others] = (await getFrom<readonly KeptDraftPhoto[]>('things', KEY)) ?? [];
    if (first && draft.photo.value === null)
      batch(() => {
        draft.photo.value = chosen(first);
        draft.marks.value = first.marks;
        draft.also.value = others.map((other) => ({ ...chosen(other), marks: other.marks }));
      });
  } catch {
    // Without storage a reload begins without photos.
  }
  keepThemFromNowOn();
};

/** Pictures of photos as fetched for keeping; the server makes each once, and the browser fetches it once. */
const pictures = new WeakMap<Blob, Promise<KeptPicture | null>>();

const kept = async (
  { file, name, preview }: ChosenPhoto,
  marks: Marks | null,
): Promise<readonly KeptDraftPhoto[]> => {
  const known = pictures.get(file) ?? pictureOf(preview);
  pictures.set(file, known);
  const picture = await known;
  return picture ? [{ file, name, preview: picture, marks }] : [];
};

let newest = 0;

const keepNow = async (): Promise<void> => {
  newest += 1;
  const mine = newest;
  const { photo, marks, also } = draft;
  if (!photo.value) return;
  try {
    const all = await Promise.all([
      kept(photo.value, marks.value),
      ...also.value.map((other) => kept(other, other.marks)),
    ]);
    if (mine === newest && all[0].length > 0) await putInto('things', all.flat(), KEY);
  } catch {
    // The photos then live as long as the page.
  }
};

let keeping = false;
let waiting: ReturnType<typeof setTimeout> | undefined;

const filesNow = (): readonly Blob[] =>
  [draft.photo.value, ...draft.also.value].flatMap((photo) => photo?.file ?? []);

/** Keeps the draft's photos in the browser whenever they or their marks change. */
const keepThemFromNowOn = (): void => {
  let known: { readonly files: readonly Blob[]; readonly marks: readonly unknown[] } | null = null;
  if (keeping) return;
  keeping = true;
  effect(() => {
    const files = filesNow();
    const marks = [draft.marks.value, ...draft.also.value.map((other) => other.marks)];
    const before = known;
    known = { files, marks };
    if (!before || files.length === 0) return;
    clearTimeout(waiting);
    const sameFiles = files.length === before.files.length && files.every((f, i) => f === before.files[i]);
    if (!sameFiles) keepNow();
    else if (marks.some((one, i) => one !== before.marks[i])) waiting = setTimeout(keepNow, REST_MS);
  });
};
