import { AnalysisError, type Warning } from '../errors.ts';
import type { Strip } from '../level/card.ts';
import type { Photo } from '../photo/photo.ts';
import { fullSize } from '../photo/reduction.ts';
import { phrase } from '../phrases.ts';
import { apartMarks } from './apartMarks.ts';
import { doubtPhrases } from './doubtWords.ts';
import { type FindOutcome, findMarks } from './findMarks.ts';
import type { Marks, Point, Quad } from './marks.ts';
import type { MarksNeed } from './marksNeeds.ts';
import { matchMarks } from './matchMarks.ts';
import type { Taps } from './taps.ts';

export interface PlacedMarks {
  readonly marks: Marks;
  readonly warnings: readonly Warning[];
  /** What a person should settle before these marks are trusted; empty where nothing. */
  readonly needs: readonly MarksNeed[];
  /** Why no time may be given: the photo shows another number of steps than there are times. Null where it does not. */
  readonly countDiffers: Pick<Warning, 'message' | 'phrase'> | null;
}

/** Corners that the finder extrapolated past the photo's edge, brought back onto it. */
const heldInside = (marks: Marks, { widthPx, heightPx }: Photo): Marks => {
  const held = ([x, y]: Point): Point => [
    Math.min(widthPx, Math.max(0, x)),
    Math.min(heightPx, Math.max(0, y)),
  ];
  const quadInside = (quad: Quad): Quad => [held(quad[0]), held(quad[1]), held(quad[2]), held(quad[3])];
  return {
    ...marks,
    card: marks.card.map((m) => ({ ...m, quad: quadInside(m.quad) })),
    steps: marks.steps.map((m) => ({ ...m, quad: quadInside(m.quad) })),
  };
};

const onPhoto = (taps: Taps, photo: Photo): void => {
  const { widthPx, heightPx } = photo;
  const full = fullSize(photo);
  for (const [what, tap] of Object.entries(taps))
    if (tap && !(tap[0] >= 0 && tap[1] >= 0 && tap[0] <= widthPx && tap[1] <= heightPx))
      throw new AnalysisError(
        'marks-outside-photo',
        `The tap on the ${what} lies outside the photo of ${full.widthPx} × ${full.heightPx} pixels. Give it as [x, y] in pixels of the upright photo.`,
        {
          phrase: phrase('tap-outside', {
            of: what as keyof Taps,
            widthPx: full.widthPx,
            heightPx: full.heightPx,
          }),
        },
      );
};

/**
 * Where are card and steps: as given by hand, as found on a measuring sheet, or found anywhere in the photo?
 *
 * @param given marks set by a person; null to look for them.
 * @param taps points that a person touched on card and strip, to look there.
 * @param onSheet what was found on the sheet; null where the photo shows none.
 * @throws AnalysisError `marks-outside-photo` for a tap beside the photo; `marks-invalid` for marks of another strip or two on one place; `card-not-found`, `strip-not-found`.
 */
export const placeMarks = (
  photo: Photo,
  strip: Strip,
  given: Marks | null,
  taps: Taps = {},
  onSheet: FindOutcome | null = null,
): PlacedMarks => {
  if (given) {
    const marks = apartMarks(matchMarks(given, strip));
    const missing = strip.steps.length - marks.steps.length;
    const warnings =
      missing > 0
        ? [
            {
              code: 'steps-not-marked',
              message: `${missing} of the ${strip.steps.length} steps are not marked and were left out.`,
              phrase: phrase('steps-not-marked', { missing, of: strip.steps.length }),
            },
          ]
        : [];
    return { marks, warnings, needs: [], countDiffers: null };
  }
  onPhoto(taps, photo);
  const found = onSheet && onSheet.kind !== 'not-found' ? onSheet : findMarks(photo, strip, taps);
  if (found.kind === 'not-found') {
    // Where there is a sheet, what is missing on it says more.
    const missing = onSheet?.kind === 'not-found' ? onSheet : found;
    throw new AnalysisError(missing.what === 'card' ? 'card-not-found' : 'strip-not-found', missing.message, {
      phrase: missing.phrase,
    });
  }
  const marks = heldInside(found.marks, photo);
  if (found.kind === 'found') return { marks, warnings: [], needs: [], countDiffers: null };
  return {
    marks,
    needs: found.needs,
    countDiffers: found.otherCount && {
      message: `The photo seems to show ${found.otherCount} steps than the ${strip.steps.length} that have a time, so it is not sure which time belongs to which step, and no time is given. Count the steps, the unexposed one included, and correct the times; or, if the count is right, set the marks by hand.`,
      phrase: phrase('count-differs', { other: found.otherCount, of: strip.steps.length }),
    },
    warnings: [
      {
        code: 'marks-uncertain',
        message: `Card and steps were found, but not surely (${found.why.join('; ')}). Look at the marks in the photo. ${found.needs.map(({ message }) => message).join(' ')}`,
        phrase: phrase('marks-uncertain', {
          why: found.why.flatMap(doubtPhrases),
          needs: found.needs.flatMap((need) => need.phrase ?? []),
        }),
      },
    ],
  };
};
