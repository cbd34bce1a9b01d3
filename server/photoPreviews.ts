import type { Analyst, ReadTask } from './analyst.ts';
import type { Preview, ReadingAnswer } from './contracts/answers.ts';
import { createShelf, fingerprintOf, type PreviewImage } from './shelf.ts';

const PREVIEW_WIDTH_PX = 1400;
const MOST_PREVIEWS = 24;

/** Small pictures of photos, made once per photo and remembered for a while. */
export interface PhotoPreviews {
  of(photo: Uint8Array, caller?: AbortSignal): Promise<Preview>;
  /** Reads a photo, and makes its small picture in the same turn where there is none yet. */
  withReading(task: ReadTask, caller?: AbortSignal): Promise<ReadingAnswer>;
  image(fingerprint: string): PreviewImage | undefined;
}

export const createPhotoPreviews = (analyst: Analyst): PhotoPreviews => {
  const shelf = createShelf(MOST_PREVIEWS);
  const shown = (fingerprint: string, { photoWidthPx, photoHeightPx, planId }: PreviewImage): Preview => ({
    href: `/api/previews/${fingerprint}.jpg`,
    photoWidthPx,
    photoHeightPx,
    ...(planId !== undefined && { planId }),
  });
  return {
    async of(photo, caller) {
      const fingerprint = fingerprintOf(photo);
      let image = shelf.get(fingerprint);
      if (!image) {
        image = await analyst.preview({ kind: 'preview', photo, widthPx: PREVIEW_WIDTH_PX }, caller);
        shelf.put(fingerprint, image);
      }
      return shown(fingerprint, image);
    },
    async withReading(task, caller) {
      const fingerprint = fingerprintOf(task.photo);
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
  };
};
