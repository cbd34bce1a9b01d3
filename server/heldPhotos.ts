import { decodePhoto, decodeToMeasure } from '../analysis/photo/decode.ts';
import type { Photo } from '../analysis/photo/photo.ts';
import { type BoundedMemory, createBoundedMemory } from './boundedMemory.ts';

/** Room for one photo of 48 megapixels whole, or dozens as they are measured, in each thread; they go a minute after the last that was asked. */
const decoded: BoundedMemory<Photo> = createBoundedMemory({ mostBytes: 160_000_000, forMs: 60_000 });

const bytesOf = ({ codes, clippedInFile }: Photo): number =>
  codes.byteLength + (clippedInFile?.byteLength ?? 0);

const once = async (name: string, decode: () => Promise<Photo>): Promise<Photo> => {
  const known = decoded.get(name);
  if (known) return known;
  const photo = await decode();
  decoded.put(name, photo, bytesOf(photo));
  return photo;
};

/**
 * The picture of a photo that is read again and again while its marks are moved: decoded once.
 *
 * @param key identifies these very bytes.
 */
export const decodedOnce = (key: string, bytes: Uint8Array): Promise<Photo> =>
  once(key, () => decodeToMeasure(bytes));

/** The same for the photo in all its pixels, which small marks need. */
export const wholeOnce = (key: string, bytes: Uint8Array): Promise<Photo> =>
  once(`${key} whole`, () => decodePhoto(bytes));
