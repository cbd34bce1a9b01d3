import { createHash } from 'node:crypto';

/** A preview as kept: a small upright JPEG and the upright photo's own size. */
export interface PreviewImage {
  readonly jpeg: Uint8Array;
  readonly photoWidthPx: number;
  readonly photoHeightPx: number;
  /** Id of the plan that a measuring sheet in the photo names. */
  readonly planId?: string;
}

/** A bounded memory of previews by the photo's fingerprint; the longest unused goes first. */
export interface Shelf {
  get(fingerprint: string): PreviewImage | undefined;
  put(fingerprint: string, image: PreviewImage): void;
}

/** What identifies these bytes: the first 128 bits of their SHA-256, in hex. */
export const fingerprintOf = (bytes: Uint8Array): string =>
  createHash('sha256').update(bytes).digest('hex').slice(0, 32);

export const createShelf = (most: number): Shelf => {
  const images = new Map<string, PreviewImage>();
  return {
    get(fingerprint) {
      const image = images.get(fingerprint);
      if (image) {
        images.delete(fingerprint);
        images.set(fingerprint, image);
      }
      return image;
    },
    put(fingerprint, image) {
      images.delete(fingerprint);
      images.set(fingerprint, image);
      for (const oldest of images.keys()) {
        if (images.size <= most) break;
        images.delete(oldest);
      }
    },
  };
};
