import type { Analyst, ReadTask } from './analyst.ts';
import { createBoundedMemory } from './boundedMemory.ts';
import type { Preview, ReadingAnswer } from './contracts/answers.ts';
import { Refusal } from './refusal.ts';
import { createShelf, fingerprintOf, type PreviewImage } from './shelf.ts';

const PREVIEW_WIDTH_PX = 1400;
const MOST_PREVIEWS = 24;

/** How much of the photos themselves is remembered, so that marks can be moved without sending them again. */
const MOST_HELD_BYTES = 120_000_000;
const HELD_FOR_MS = 600_000;

/** Small pictures of photos, made once per photo and remembered for a while; the photos themselves for a shorter one. */
export interface PhotoPreviews {
  of(photo: Uint8Array, caller?: AbortSignal): Promise<Preview>;
  /** Reads a photo, and makes its small picture in the same turn where there is none yet. */
  withReading(task: ReadTask, caller?: AbortSignal): Promise<ReadingAnswer>;
  image(fingerprint: string): PreviewImage | undefined;
  /** A photo that came a short while ago, by its key. @throws Refusal `photo-forgotten`. */
  photo(key: string): Uint8Array;
}

export const createPhotoPreviews = (analyst: Analyst): PhotoPreviews => {
  const shelf = createShelf(MOST_PREVIEWS);
  const held = createBoundedMemory<Uint8Array>({ mostBytes: MOST_HELD_BYTES, forMs: HELD_FOR_MS });
  const hold = (photo: Uint8Array): string => {
    const fingerprint = fingerprintOf(photo);
    held.put(fingerprint, photo, photo.byteLength);
    return fingerprint;
  };
  const shown = (fingerprint: string, { photoWidthPx, photoHeightPx, planId }: PreviewImage): Preview => ({
    href: `/api/previews/${fingerprint}.jpg`,
    photoKey: fingerprint,
    photoWidthPx,
    photoHeightPx,
    ...(planId !== undefined && { planId }),
  });
  return {
    async of(photo, caller) {
      const fingerprint = hold(photo);
      let image = shelf.get(fingerprint);
      if (!image) {
        image = await analyst.preview({ kind: 'preview', photo, widthPx: PREVIEW_WIDTH_PX }, caller);
        shelf.put(fingerprint, image);
      }
      return shown(fingerprint, image);
    },
    async withReading(task, caller) {
      const fingerprint = task.key ?? hold(task.photo);
      const known = shelf.get(fingerprint);
      if (known) return { reading: await analyst.read(task, caller), preview: shown(fingerprint, known) };
      const { reading, preview } = await analyst.readAndPreview(
        { kind: 'read-and-preview', read: task, widthPx: PREVIEW_WIDTH_PX },
        caller,
      );
      shelf.put(fingerprint, preview);
      return { reading, preview: shown(fingerprint, preview) };
    },
    image: (fingerprint) => shelf.get(fingerprint),
    photo: (key) => {
      const photo = held.get(key);
      if (photo) return photo;
      throw new Refusal(
        'photo-forgotten',
        'This photo is no longer held: photos are let go a few minutes after they were last used. Send it again.',
      );
    },
  };
};
