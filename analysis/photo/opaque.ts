import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

/**
 * Which light is there where a photo is see-through? None that can be measured: a pixel that is not fully opaque
 * becomes code 0 in all channels, which counts as clipped, so that no reading rests on it (the empty corners that
 * straightening a photo leaves). R G B A in, R G B out.
 *
 * Throws `photo-unreadable` where less than half of the photo is opaque.
 */
export function opaqueOnly<Codes extends Uint8Array | Uint16Array>(rgba: Codes, maxCode: number): Codes {
  const pixels = rgba.length / 4;
  const rgb = (
    rgba instanceof Uint16Array ? new Uint16Array(3 * pixels) : new Uint8Array(3 * pixels)
  ) as Codes;
  let opaque = 0;
  for (let i = 0, from = 0, to = 0; i < pixels; i++, from += 4, to += 3) {
    if (rgba[from + 3] !== maxCode) continue;
    opaque++;
    rgb[to] = rgba[from];
    rgb[to + 1] = rgba[from + 1];
    rgb[to + 2] = rgba[from + 2];
  }
  if (2 * opaque < pixels) {
    throw new AnalysisError(
      'photo-unreadable',
      'Most of this picture is see-through. Save it without transparency, as JPEG, and try again.',
      { phrase: phrase('file-see-through', {}) },
    );
  }
  return rgb;
}
