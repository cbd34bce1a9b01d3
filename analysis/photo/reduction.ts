import type { Photo } from './photo.ts';

/** Fewest pixels that a reduced picture keeps, about 1150 × 870: the bench measures accuracy on pictures of that size too. */
const LEAST_PX = 1_000_000;
/**
 * How many times smaller a picture's sides may become, the most first. libjpeg decodes to an eighth, a quarter or a
 * half, and what remains is averaged from there. Of 8, 4 and 2 themselves sharp would decode twice as many to a side.
 */
const DIVISORS = [9, 5, 3] as const;

/** To which size is a JPEG of this size decoded for measuring? Null for one that is read at its own. */
export const reducedSize = (
  widthPx: number,
  heightPx: number,
): { readonly widthPx: number; readonly heightPx: number } | null => {
  const divisor = DIVISORS.find((d) => Math.floor(widthPx / d) * Math.floor(heightPx / d) >= LEAST_PX);
  return divisor === undefined
    ? null
    : { widthPx: Math.floor(widthPx / divisor), heightPx: Math.floor(heightPx / divisor) };
};

/** How many pixels does the photo itself have, whatever it was decoded to? */
export const fullSize = ({
  widthPx,
  heightPx,
  full,
}: Photo): { readonly widthPx: number; readonly heightPx: number } => full ?? { widthPx, heightPx };

/** How many pixels of the photo itself go to one of the decoded picture, across and down; 1 each where none were joined. */
export const pixelsJoined = (photo: Photo): readonly [across: number, down: number] => {
  const { widthPx, heightPx } = fullSize(photo);
  return [widthPx / photo.widthPx, heightPx / photo.heightPx];
};
