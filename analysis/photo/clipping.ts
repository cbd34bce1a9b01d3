import type { Photo } from './photo.ts';

/**
 * From which code values on has a channel run out of range? Codes at or below `low`, or at or above `high`: 1 and
 * 254 of 255, and the same shares of 16 bit. One code inside either end, because compression moves a clipped
 * area's codes by one. Common practice, no source.
 */
export function clippingLimits(maxCode: 255 | 65535): { readonly low: number; readonly high: number } {
  const unit = maxCode / 255;
  return { low: unit, high: maxCode - unit };
}

/**
 * Had the camera no more room for this pixel's light? True where any channel is clipped in the file at either end;
 * what such a pixel says is not light but a limit. `pixel` counts row by row from the top left.
 */
export function isClipped(photo: Photo, pixel: number): boolean {
  if (photo.clippedInFile !== undefined) return photo.clippedInFile[pixel] !== 0;
  const { low, high } = clippingLimits(photo.maxCode);
  for (let i = 3 * pixel; i < 3 * pixel + 3; i++) {
    if (photo.codes[i] <= low || photo.codes[i] >= high) return true;
  }
  return false;
}
