import type { Marks, Quad } from '../locate/marks.ts';
import { sideLengths } from '../locate/quadGeometry.ts';
import type { Photo } from '../photo/photo.ts';
import { fullSize, pixelsJoined } from '../photo/reduction.ts';
import { type Area, phrase } from '../phrases.ts';
import { patchName, sentence, stepName } from './areaName.ts';
import type { Finding } from './finding.ts';

/**
 * Shorter side of a mark below which it is small, pixels. The middle 64 % that is read should hold at least one whole
 * 16 × 16 block of a JPEG's halved colour, wherever it falls: 31 px.
 */
const SMALLEST_SIDE_PX = 48;
/** Longer side below which a photo was saved too small to hold a strip in useful detail, pixels. Phones take 4000; what is sent as a message has 1280 to 1600. Common practice, no source. */
const SMALL_PHOTO_PX = 900;
/** Share of the photo's width or height that card and strip take up when they fill it as far as they well can. */
const WELL_FILLED = 0.5;
/** Share below which going closer would make everything twice as large, even where marks are large enough. */
const FAR = 0.35;

const shorterSide = (quad: Quad): number => Math.min(...sideLengths(quad));

/** Share of the photo's width or height, whichever is more, that the marks span. */
const filledShare = (photo: Photo, marks: Marks): number => {
  const points = [...marks.card, ...marks.steps].flatMap((m) => m.quad);
  const span = (axis: 0 | 1): number =>
    Math.max(...points.map((p) => p[axis])) - Math.min(...points.map((p) => p[axis]));
  return Math.max(span(0) / photo.widthPx, span(1) / photo.heightPx);
};

/** Are card, strip and the photo itself large enough to be measured? */
export const sizeFindings = (photo: Photo, marks: Marks): Finding[] => {
  const { widthPx, heightPx } = fullSize(photo);
  const joined = Math.min(...pixelsJoined(photo));
  const findings: Finding[] = [];
  const filled = filledShare(photo, marks);
  const remedy =
    filled < WELL_FILLED
      ? `Card and strip span only ${(100 * filled).toFixed(0)} % of the photo: go closer, so that they fill it.`
      : 'Use the photo as the camera took it, not a reduced copy, or photograph fewer steps at a time.';
  const smallest = (areas: readonly { readonly name: string; readonly area: Area; readonly quad: Quad }[]) =>
    areas
      .map(({ name, area, quad }) => ({ name, area, px: joined * shorterSide(quad) }))
      .reduce((least, one) => (one.px < least.px ? one : least));
  for (const [code, area] of [
    [
      'card-small',
      smallest(marks.card.map((m) => ({ name: patchName(m.name), area: { patch: m.name }, quad: m.quad }))),
    ],
    [
      'steps-small',
      smallest(
        marks.steps.map((m) => ({ name: stepName(m.seconds), area: { seconds: m.seconds }, quad: m.quad })),
      ),
    ],
  ] as const)
    if (area.px < SMALLEST_SIDE_PX)
      findings.push({
        code,
        severity: 'retake',
        where: area.name,
        message: `${sentence(area.name)} is only ${area.px.toFixed(0)} px across; ${SMALLEST_SIDE_PX} px or more are needed for a sound mean. ${remedy}`,
        phrase: phrase('area-small', {
          area: area.area,
          px: area.px,
          leastPx: SMALLEST_SIDE_PX,
          filled: filled < WELL_FILLED ? filled : null,
        }),
      });
  if (findings.length === 0 && filled < FAR)
    findings.push({
      code: 'photo-far',
      severity: 'note',
      message: `Card and strip span only ${(100 * filled).toFixed(0)} % of the photo. They are large enough to be read, but go closer next time, so that they fill it: marks are then set more exactly.`,
      phrase: phrase('photo-far', { share: filled }),
    });
  if (Math.max(widthPx, heightPx) < SMALL_PHOTO_PX)
    findings.push({
      code: 'photo-saved-small',
      severity: 'note',
      message: `The photo has only ${widthPx} × ${heightPx} px. Phones take far larger ones: hand over the original file, not one reduced by a message or a web page.`,
      phrase: phrase('photo-small', { widthPx, heightPx }),
    });
  return findings;
};
