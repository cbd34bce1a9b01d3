import type { Preview } from '../../server/contracts/answers.ts';
import { fetchPhoto } from '../api.ts';
import { type KeptPicture, pictureBehind } from './shelf.ts';

/** A preview's picture to be kept, fetched where it is the server's; null where it is gone already. */
export const pictureOf = async (preview: Preview): Promise<KeptPicture | null> => {
  const here = pictureBehind(preview);
  if (here) return here;
  const { href, photoWidthPx, photoHeightPx, photoKey } = preview;
  try {
    const picture = await fetchPhoto(href);
    return { picture, photoWidthPx, photoHeightPx, ...(photoKey !== undefined && { photoKey }) };
  } catch {
    return null;
  }
};
