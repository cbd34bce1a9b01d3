import { performance } from 'node:perf_hooks';
import type { Strip } from '../../analysis/level/card.ts';
import { level } from '../../analysis/level/level.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { type FindOutcome, findMarks } from '../../analysis/locate/findMarks.ts';
import type { Marks } from '../../analysis/locate/marks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { Photo } from '../../analysis/photo/photo.ts';
import { readSteps } from '../../analysis/steps/readSteps.ts';
import { cutTiles } from '../../analysis/tiles/cutTiles.ts';
import { type RenderedScene, renderScene } from '../../fixtures/render.ts';
import { type FinderScene, finderScene } from './finderScene.ts';
import { inPlace, sameArea } from './inPlace.ts';
import { rms } from './tables.ts';

/** One rendered photo searched. Plain data. */
export interface Found {
  readonly seed: number;
  readonly scene: FinderScene;
  readonly pattern: string;
  readonly pieces: string;
  readonly steps: number;
  readonly outcome: FindOutcome['kind'];
  /** 0 where nothing was found. */
  readonly confidence: number;
  /** Every patch in its place, and every step in its place and order. */
  readonly cardRight: boolean;
  readonly stepsRight: boolean;
  /** The same where areas that are too large count as wrong as well. */
  readonly same: boolean;
  readonly why: readonly string[];
  /** RMSE of L* over the steps with true and with found marks; null where they were not found, or could not be read. */
  readonly errorTrue: number | null;
  readonly errorFound: number | null;
  /** The same photo with one step declared too few, and one too many: true where that went unnoticed. */
  readonly unnoticed: readonly boolean[];
  readonly locateMs: number;
}

const errorWith = (photo: Photo, strip: Strip, marks: Marks, scene: RenderedScene): number | null => {
  try {
    const { steps } = readSteps(level(cutTiles(photo, marks), strip, photo.profile, 1), photo.profile);
    return rms(steps.map((step, i) => step.L - scene.truth.steps[i].L));
  } catch {
    return null;
  }
};

const withSteps = (strip: Strip, more: 1 | -1): Strip => {
  const { steps } = strip;
  const last = steps[steps.length - 1].seconds;
  return { ...strip, steps: more < 0 ? steps.slice(0, -1) : [...steps, { seconds: 1.5 * last + 1 }] };
};

export const searchRendered = (
  photo: Photo,
  scene: RenderedScene,
  seed: number,
  wanted: FinderScene,
  pattern: string,
  pieces: string,
): Found => {
  const strip = parseStrip(scene.strip);
  const truth = parseMarks(scene.marks);
  const start = performance.now();
  const found = findMarks(photo, strip);
  const locateMs = performance.now() - start;
  const marks = found.kind === 'not-found' ? null : found.marks;
  const cardRight =
    marks !== null &&
    wanted.leftOut !== 'card' &&
    marks.card.every((m) => inPlace(m.quad, truth.card.find((t) => t.name === m.name)!.quad));
  const stepsRight =
    marks !== null &&
    wanted.leftOut !== 'cloth' &&
    marks.steps.every((m, i) => inPlace(m.quad, truth.steps[i].quad));
  const whole = !wanted.leftOut;
  const same =
    cardRight &&
    stepsRight &&
    marks.card.every((m) => sameArea(m.quad, truth.card.find((t) => t.name === m.name)!.quad)) &&
    marks.steps.every((m, i) => sameArea(m.quad, truth.steps[i].quad));
  return {
    seed,
    scene: wanted,
    pattern,
    pieces,
    steps: strip.steps.length,
    outcome: found.kind,
    confidence: found.kind === 'not-found' ? 0 : found.confidence,
    cardRight,
    stepsRight,
    same,
    why: found.kind === 'not-found' ? [found.message] : found.kind === 'found' ? found.notes : found.why,
    errorTrue: whole ? errorWith(photo, strip, truth, scene) : null,
    errorFound: whole && marks ? errorWith(photo, strip, marks, scene) : null,
    unnoticed: whole
      ? ([-1, 1] as const).map((more) => findMarks(photo, withSteps(strip, more)).kind === 'found')
      : [],
    locateMs,
  };
};

export const search = async (seed: number, wanted: FinderScene): Promise<Found> => {
  const spec = finderScene(seed, wanted);
  const scene = await renderScene(spec);
  const photo = await decodePhoto(scene.bytes);
  return searchRendered(photo, scene, seed, wanted, spec.surround.pattern, spec.strip.pieces);
};
