import type { LookAnswer } from '../server/contracts/look.ts';
import type { Marks } from '../server/contracts/marks.ts';
import type { StripDescription } from '../server/contracts/strip.ts';
import { Failure, type ReadingRequest, sendForLook, sendForPreview, sendForReading } from './api.ts';

/** Brings a photo's bytes; the same function for as long as it is the same photo. */
export type PhotoSource = () => Promise<Blob>;

/** A photo of a strip, and where things are in it; null where they are to be looked for. */
export interface MarkedSource {
  readonly source: PhotoSource;
  readonly marks: Marks | null;
}

/** Names under which the server held photos when it last saw them. */
const keys = new WeakMap<PhotoSource, string>();

/** Notes the name under which the server holds a photo. */
export const learnKey = (source: PhotoSource, key: string | undefined): void => {
  if (key !== undefined) keys.set(source, key);
};

/** A source that fetches its photo once. */
export const fetchedOnce = (fetchIt: PhotoSource): PhotoSource => {
  let fetched: Promise<Blob> | null = null;
  return () => {
    fetched ??= fetchIt().catch((error: unknown) => {
      fetched = null;
      throw error;
    });
    return fetched;
  };
};

const sources = new WeakMap<Blob, PhotoSource>();

/** The source of a photo that is here already. */
export const sourceOf = (photo: Blob): PhotoSource => {
  const known = sources.get(photo) ?? (async () => photo);
  sources.set(photo, known);
  return known;
};

const forgotten = (error: unknown): boolean => error instanceof Failure && error.code === 'photo-forgotten';

export interface StripRequest extends Omit<ReadingRequest, 'photos'> {
  readonly photos: readonly [MarkedSource, ...MarkedSource[]];
}

/** Has a strip read; photos that the server holds already are named, not sent again. */
export const readPhotos = async ({ photos, ...request }: StripRequest, signal: AbortSignal) => {
  const [first, ...others] = photos;
  const named = ({ source, marks }: MarkedSource) => ({ photo: keys.get(source) ?? null, marks });
  const whole = async ({ source, marks }: MarkedSource) => ({ photo: await source(), marks });
  const read = async () => {
    const [one, ...rest] = [named(first), ...others.map(named)];
    if ([one, ...rest].every(({ photo }) => photo !== null))
      try {
        return await sendForReading({ ...request, photos: [one, ...rest] }, signal);
      } catch (error) {
        if (!forgotten(error)) throw error;
      }
    const sent = [await whole(first), ...(await Promise.all(others.map(whole)))] as const;
    return sendForReading({ ...request, photos: sent }, signal);
  };
  const answer = await read();
  learnKey(first.source, answer.preview.photoKey);
  return answer;
};

/** The name under which the server holds a photo, which is sent where it has none. */
const heldKey = async (source: PhotoSource, signal: AbortSignal): Promise<string> => {
  const known = keys.get(source);
  if (known !== undefined) return known;
  const { photoKey = '' } = (await sendForPreview(await source(), signal)).preview;
  learnKey(source, photoKey);
  return photoKey;
};

/** What the steps come to under these marks. Sends photos that the server no longer holds, and asks once more. */
export const lookAtSteps = async (
  photos: readonly { readonly source: PhotoSource; readonly marks: Marks }[],
  strip: StripDescription,
  signal: AbortSignal,
): Promise<LookAnswer> => {
  const look = async (): Promise<LookAnswer> =>
    sendForLook(
      {
        photos: await Promise.all(
          photos.map(async ({ source, marks }) => ({ key: await heldKey(source, signal), marks })),
        ),
        strip,
      },
      signal,
    );
  try {
    return await look();
  } catch (error) {
    if (!forgotten(error)) throw error;
    for (const { source } of photos) keys.delete(source);
    return look();
  }
};
