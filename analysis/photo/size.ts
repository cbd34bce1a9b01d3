import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

const MOST_PX = 100_000_000;
const LEAST_SIDE_PX = 64;

/**
 * Is a photo of this size worth decoding? Throws `photo-too-large` above 100 megapixels and `photo-too-small`
 * below 64 × 64 px; called before any pixel is decoded.
 */
export function checkSize(widthPx: number, heightPx: number): void {
  if (widthPx * heightPx > MOST_PX) {
    const megapixels = Math.ceil((widthPx * heightPx) / 1e6);
    throw new AnalysisError(
      'photo-too-large',
      `The photo has ${megapixels} megapixels; up to 100 can be read. Crop it to strip and card, or export it smaller.`,
      { phrase: phrase('photo-large', { megapixels, most: MOST_PX / 1e6 }) },
    );
  }
  if (widthPx < LEAST_SIDE_PX || heightPx < LEAST_SIDE_PX) {
    throw new AnalysisError(
      'photo-too-small',
      `The photo is ${widthPx} × ${heightPx} px; at least 64 × 64 px are needed. Use the original, not a thumbnail.`,
      { phrase: phrase('photo-tiny', { widthPx, heightPx, least: LEAST_SIDE_PX }) },
    );
  }
}
