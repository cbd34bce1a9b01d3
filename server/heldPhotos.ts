import { decodeToMeasure } from '../analysis/photo/decode.ts';
import type { Photo } from '../analysis/photo/photo.ts';
import { type BoundedMemory, createBoundedMemory } from './boundedMemory.ts';

/** Room for one photo of 48 megapixels, or four of 12, in each thread; they go a minute after the last that was asked. */
const decoded: BoundedMemory<Photo> = createBoundedMemory({ mostBytes: 160_000_000, forMs: 60_000 });

const bytesOf = ({ codes, clippedInFile }: Photo): number =>
  codes.byteLength + (clippedInFile?.byteLength ?? 0);

/**
 * A photo that is read again and again while its marks are moved: decoded once.
 *
 * @param key identifies these very bytes.
 */
export const decodedOnce = async (key: string, bytes: Uint8Array): Promise<Photo> => {
  const known = decoded.get(key);
  if (known) return known;
  const photo = await decodeToMeasure(bytes);
  decoded.put(key, photo, bytesOf(photo));
  return photo;
};
