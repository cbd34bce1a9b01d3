import type { Photo } from '../photo/photo.ts';

/**
 * Code values at or beyond which a channel counts as clipped in the file: JPEG moves a clipped 255 or 0 by about one.
 */
export const clippingLimits = ({
  maxCode,
}: Pick<Photo, 'maxCode'>): { readonly low: number; readonly high: number } => ({
  low: Math.round((1.5 / 255) * maxCode - 0.5),
  high: Math.round((253.5 / 255) * maxCode + 0.5),
});
