import type { Target } from './advice/advice.ts';
import { advise } from './advice/advise.ts';
import { judgeSteps, type VerdictSettings } from './advice/verdict.ts';
import { checkPhoto } from './check/checkPhoto.ts';
import { type Lab, xyzToLab } from './colour/lab.ts';
import { applyMatrix3 } from './colour/matrix3.ts';
import type { CurveOutcome } from './curve/curve.ts';
import { fitStrips, type StripPoints } from './curve/fitStrips.ts';
import { AnalysisError, type Warning } from './errors.ts';
import type { Strip } from './level/card.ts';
import { level } from './level/level.ts';
import { marksInPhoto, tapsInPicture } from './locate/inPicture.ts';
import type { Marks } from './locate/marks.ts';
import { placeMarks } from './locate/placeMarks.ts';
import { findOnSheet } from './locate/sheetMarks.ts';
import type { Taps } from './locate/taps.ts';
import { markedPicture } from './markedPicture.ts';
import { METHOD_VERSION } from './methodVersion.ts';
import { decodeToMeasure } from './photo/decode.ts';
import type { Photo } from './photo/photo.ts';
import { fullSize } from './photo/reduction.ts';
import { phrase } from './phrases.ts';
import type { Reading } from './reading.ts';
import { combinePhotos } from './steps/combinePhotos.ts';
import { readSteps } from './steps/readSteps.ts';
import { cutTiles } from './tiles/cutTiles.ts';

export interface ReadOptions {
  /** Where card and steps are; looked for in the photo when missing. */
  readonly marks?: Marks;
  /** Points on card and strip that a person tapped, to look there. */
  readonly taps?: Taps;
  /** The depth wanted, or to match the swatch that is marked in the first photo; as deep as it goes when missing. */
  readonly target?: Target | 'marked-swatch';
  /** Steps of earlier strips of the same dye, cloth and light, fitted together with this one. */
  readonly earlier?: readonly StripPoints[];
  /** Seed of everything drawn at random: the same seed gives the same reading. */
  readonly seed?: number;
  readonly timerStepSeconds?: number;
  readonly verdictSettings?: Partial<VerdictSettings>;
}

/** One photo of the strip, and where things are in it. */
export interface StripPhoto {
  readonly bytes: Uint8Array;
  /** The same photo as `decodeToMeasure` or `decodePhoto` gives it, where the caller has it already. */
  readonly decoded?: Photo;
  /** Looked for in the photo when missing. */
  readonly marks?: Marks;
  /** Points on card and strip that a person tapped, to look there. */
  readonly taps?: Taps;
}

/** A sheet's paper has brighteners: what it says of evenness holds, what it says of white does not. */
const SHEET_PAPER: Warning = {
  code: 'sheet-paper',
  message:
    'Read from the measuring sheet. Its paper shows how even the light is and is never taken for white: brighteners make paper look brighter and bluer than it is. The card alone says what is neutral.',
  phrase: phrase('sheet-paper', {}),
};

const readPhoto = async ({ bytes, decoded, marks: given, taps }: StripPhoto, strip: Strip, seed: number) => {
  const picture = decoded ?? (await decodeToMeasure(bytes));
  const sheet = given || taps ? null : await findOnSheet(picture, strip);
  const placed = placeMarks(
    picture,
    strip,
    given ?? null,
    taps && tapsInPicture(taps, picture),
    sheet?.found,
  );
  const { warnings, needs, countDiffers } = placed;
  // Given marks are in pixels of the photo itself, found ones in pixels of the picture that was looked at.
  const marks = given ? placed.marks : marksInPhoto(placed.marks, picture);
  const measured = await markedPicture(bytes, picture, marks);
  const { photo } = measured;
  const tiled = cutTiles(photo, measured.marks);
  const findings = checkPhoto(photo, measured.marks, tiled);
  const levelled = level(tiled, strip, photo.profile, seed);
  return {
    set: readSteps(levelled, photo.profile),
    swatch: levelled.swatch && xyzToLab(applyMatrix3(photo.profile.toXyz65, levelled.swatch)),
    marks,
    planId: sheet?.planId ?? null,
    needs,
    countDiffers,
    illumination: levelled.illumination,
    tone: levelled.tone,
    colour: levelled.colour,
    warnings: [
      ...warnings,
      ...(marks.surround ? [SHEET_PAPER] : []),
      ...findings.map(({ code, message, phrase }) => ({ code, message, phrase })),
      ...levelled.warnings,
    ],
    photo: {
      ...fullSize(photo),
      format: photo.format,
      profile: photo.profile.name,
    },
  };
};

const swatchTarget = (swatch: Lab | null): Target => {
  if (swatch) return { kind: 'swatch', ...swatch };
  throw new AnalysisError(
    'target-invalid',
    'There is no swatch to match: mark it in the photo ("swatch": {"quad": …} in the marks), or give its colour as "swatch=L,a,b".',
    { phrase: phrase('swatch-unmarked', {}) },
  );
};

/** Photos of one strip often have the same said of them. */
const eachOnce = (warnings: readonly Warning[]): Warning[] => [
  ...new Map(warnings.map((w) => [w.message, w])).values(),
];

/**
 * How long should I expose? From one or several photos of a finished test strip beside a neutral card.
 *
 * The whole way: file → light → marks → tiles → check → reflectance → steps → curve → verdicts and advice. Each stage takes
 * plain values and never goes back. Method and sources: docs/method.md.
 *
 * @param photos the strip's photos; the first is the one whose marks, light and tone are reported. With two or more
 *   (turned end for end, a gradient of light cancels) the spread between them goes into the uncertainty.
 * @param strip what was exposed, and the card beside it.
 * @returns steps in rising exposure with L*, its standard uncertainty and a verdict; curve; exposure with its 90 %
 *   interval. Too few steps, a blank strip and another number of steps than times are
 *   answers, not errors.
 * @throws AnalysisError for input that can't be read, with what to do next.
 */
export const readStripPhotos = async (
  photos: readonly [StripPhoto, ...StripPhoto[]],
  strip: Strip,
  options: Omit<ReadOptions, 'marks' | 'taps'> = {},
): Promise<Reading> => {
  const seed = options.seed ?? 1;

  const [first, ...others] = photos;
  const read = [await readPhoto(first, strip, seed)];
  for (const photo of others) read.push(await readPhoto(photo, strip, seed));
  const { set, repeatability } = combinePhotos(read.map((r) => r.set));
  const { steps, covarianceL } = set;
  const points = steps.map(({ seconds, L, a, b, uL }) => ({ seconds, L, a, b, uL }));
  const countDiffers = read.find((r) => r.countDiffers !== null)?.countDiffers ?? null;
  const curve: CurveOutcome =
    countDiffers === null
      ? fitStrips([...(options.earlier ?? []), { points, covarianceL }])
      : { kind: 'count-differs', ...countDiffers, points };
  const judgements = judgeSteps(steps, curve, options.verdictSettings);
  const timer = options.timerStepSeconds === undefined ? {} : { timerStepSeconds: options.timerStepSeconds };
  const target =
    options.target === 'marked-swatch' ? swatchTarget(read[0].swatch) : (options.target ?? { kind: 'full' });
  const advice = advise(curve, target, { seed, ...timer });

  const { marks, illumination, tone, colour, photo } = read[0];
  const planId = read.find((r) => r.planId !== null)?.planId ?? null;
  return {
    strip: { dye: strip.dye, cloth: strip.cloth, light: strip.light, card: strip.card.kind },
    photo,
    ...(read.length > 1 && {
      furtherPhotos: read.slice(1).map((other) => other.photo),
      furtherMarks: read.slice(1).map((other) => other.marks),
    }),
    repeatability: repeatability.photos > 1 ? repeatability : null,
    steps: steps.map((step, i) => ({ ...step, ...judgements[i] })),
    covarianceL,
    curve,
    advice,
    illumination,
    tone,
    colour,
    marks,
    ...(planId !== null && { planId }),
    needs: [...new Map(read.flatMap((r) => r.needs).map((need) => [need.part, need])).values()],
    warnings: eachOnce(read.flatMap((r) => r.warnings)),
    methodVersion: METHOD_VERSION,
  };
};

/** `readStripPhotos` for a single photo: the usual case. */
export const readStrip = (
  photoBytes: Uint8Array,
  strip: Strip,
  options: ReadOptions = {},
): Promise<Reading> => {
  const { marks, taps, ...rest } = options;
  return readStripPhotos(
    [{ bytes: photoBytes, ...(marks && { marks }), ...(taps && { taps }) }],
    strip,
    rest,
  );
};
