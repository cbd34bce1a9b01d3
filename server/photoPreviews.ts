import type { Analyst } from './analyst.ts';
import type { Preview } from './contracts/answers.ts';
import { createShelf, fingerprintOf, type PreviewImage } from './shelf.ts';

const PREVIEW_WIDTH_PX = 1400;
const MOST_PREVIEWS = 24;

/** Small pictures of photos, made once per photo and remembered for a while. */
export interface PhotoPreviews {
  of(photo: Uint8Array, caller?: AbortSignal): Promise<Preview>;
  image(fingerprint: string): PreviewImage | undefined;
}

export const createPhotoPreviews = (analyst: Analyst): PhotoPreviews => {
  const shelf = createShelf(MOST_PREVIEWS);
  return {
    async of(photo, caller) {
      const fingerprint = fingerprintOf(photo);
      let image = shelf.get(fingerprint);
      if (!image) {
        image = await analyst.preview({ kind: 'preview', photo, widthPx: PREVIEW_WIDTH_PX }, caller);
        shelf.put(fingerprint, image);
      }
      const { photoWidthPx, photoHeightPx } = image;
      return { href: `/api/previews/${fingerprint}.jpg`, photoWidthPx, photoHeightPx };
    },
    image: (fingerprint) => shelf.get(fingerprint),
  };
};
