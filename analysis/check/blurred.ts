import type { Marks } from '../locate/marks.ts';
import type { Photo } from '../photo/photo.ts';
import { pixelsJoined } from '../photo/reduction.ts';
import { phrase } from '../phrases.ts';
import type { Finding } from './finding.ts';
import { measureSharpness } from './sharpness.ts';

/**
 * Blur beyond which a photo counts as unsharp: its standard deviation in thousandths of the photo's longer side. Sharp
 * photos measure below 1, rendered ones as well as a phone's; blur of 4 px in 1600 measures 1.9 and more.
 */
const MOST_BLUR = 1.45;
/** Pixels of blur that even a small photo may have: interpolation and compression alone make one. */
const LEAST_LIMIT_PX = 2;

/** Is the photo out of focus or shaken? No answer, so no finding, where no border stands out. */
export const blurFindings = (photo: Photo, marks: Marks): Finding[] => {
  const quads = [...marks.card, ...marks.steps].map((m) => m.quad);
  const sharpness = measureSharpness(photo, quads);
  const limitPx = Math.max(LEAST_LIMIT_PX, (MOST_BLUR * Math.max(photo.widthPx, photo.heightPx)) / 1000);
  if (sharpness === null || sharpness.blurPx <= limitPx) return [];
  // Said in pixels of the photo itself.
  const joined = Math.max(...pixelsJoined(photo));
  const [spreadPx, sharpPx] = [2 * joined * sharpness.blurPx, 2 * joined * limitPx];
  return [
    {
      code: 'photo-blurred',
      severity: 'retake',
      message: `Even the sharpest borders of card and strip are spread over ${spreadPx.toFixed(0)} px; in a sharp photo of this size it is ${sharpPx.toFixed(0)} px or less. Tap on the card to focus, rest the phone on something, use more light, and wipe the lens.`,
      phrase: phrase('blurred', { spreadPx, limitPx: sharpPx }),
    },
  ];
};
