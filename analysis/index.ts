import type { Target } from './advice/advice.ts';
import { advise } from './advice/advise.ts';
import { judgeSteps, type VerdictSettings } from './advice/verdict.ts';
import { fitCurve } from './curve/fitCurve.ts';
import type { Strip } from './level/card.ts';
import { level } from './level/level.ts';
import type { Marks } from './locate/marks.ts';
import { placeMarks } from './locate/placeMarks.ts';
import { METHOD_VERSION } from './methodVersion.ts';
import { decodePhoto } from './photo/decode.ts';
import type { Reading } from './reading.ts';
import { readSteps } from './steps/readSteps.ts';
import { cutTiles } from './tiles/cutTiles.ts';

export interface ReadOptions {
  /** Where card and steps are; looked for in the photo when missing. */
  readonly marks?: Marks;
  /** The depth wanted; as deep as it goes when missing. */
  readonly target?: Target;
  /** Seed of everything drawn at random: the same seed gives the same reading. */
  readonly seed?: number;
  readonly timerStepSeconds?: number;
  readonly verdictSettings?: Partial<VerdictSettings>;
}

/**
 * How long should I expose? From a photo of a finished test strip beside a neutral card.
 *
 * The whole way: file → light → marks → tiles → reflectance → steps → curve → verdicts and advice. Each stage takes
 * plain values and never goes back. Method and sources: docs/method.md.
 *
 * @param photoBytes JPEG, PNG, WebP, TIFF, AVIF or HEIC file. @param strip what was exposed, and the card beside it.
 * @returns steps in rising exposure with L*, its standard uncertainty and a verdict; curve; exposure with its 90 %
 *   interval. Too few steps and a blank strip are answers, not errors.
 * @throws AnalysisError for input that can't be read, with what to do next.
 */
export const readStrip = async (
  photoBytes: Uint8Array,
  strip: Strip,
  options: ReadOptions = {},
): Promise<Reading> => {
  const seed = options.seed ?? 1;
  const target = options.target ?? { kind: 'full' };

  const photo = await decodePhoto(photoBytes);
  const { marks, warnings } = placeMarks(photo, strip, options.marks ?? null);
  const tiled = cutTiles(photo, marks);
  const levelled = level(tiled, strip, photo.profile, seed);
  const { steps, covarianceL } = readSteps(levelled, photo.profile);
  const points = steps.map(({ seconds, L, a, b, uL }) => ({ seconds, L, a, b, uL }));
  const curve = fitCurve(points, { covarianceL });
  const judgements = judgeSteps(steps, curve, options.verdictSettings);
  const timer = options.timerStepSeconds === undefined ? {} : { timerStepSeconds: options.timerStepSeconds };
  const advice = advise(curve, target, { seed, ...timer });

  return {
    strip: { dye: strip.dye, cloth: strip.cloth, light: strip.light, card: strip.card.kind },
    photo: {
      widthPx: photo.widthPx,
      heightPx: photo.heightPx,
      format: photo.format,
      profile: photo.profile.name,
    },
    steps: steps.map((step, i) => ({ ...step, ...judgements[i] })),
    covarianceL,
    curve,
    advice,
    illumination: levelled.illumination,
    tone: levelled.tone,
    marks,
    warnings: [...warnings, ...levelled.warnings],
    methodVersion: METHOD_VERSION,
  };
};
