import type { SmallPhoto } from '../../../analysis/locate/toneField.ts';
import type { Photo } from '../../../analysis/photo/photo.ts';
import { assumedSrgb, srgbEncoded } from '../../../analysis/photo/srgb.ts';

/** A painted scene as an 8-bit sRGB photo. */
export function photoOf({ widthPx, heightPx, rgb }: SmallPhoto): Photo {
  return {
    widthPx,
    heightPx,
    codes: Uint8Array.from(rgb, (light) => Math.round(255 * srgbEncoded(Math.min(1, light)))),
    maxCode: 255,
    profile: assumedSrgb(255, 255),
    format: 'png',
  };
}

/** The photo turned a quarter clockwise. */
export function quarterTurned(photo: Photo): Photo {
  const { widthPx: w, heightPx: h } = photo;
  const codes = new Uint8Array(photo.codes.length);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++)
      for (let c = 0; c < 3; c++) codes[3 * (x * h + (h - 1 - y)) + c] = photo.codes[3 * (y * w + x) + c];
  return { ...photo, widthPx: h, heightPx: w, codes };
}
