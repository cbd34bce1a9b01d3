import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { level } from '../../analysis/level/level.ts';
import type { Levelled } from '../../analysis/level/levelled.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { StepSet } from '../../analysis/steps/step.ts';
import { readSteps } from '../../analysis/steps/readSteps.ts';
import { cutTiles } from '../../analysis/tiles/cutTiles.ts';
import { renderScene, type RenderedScene } from '../../fixtures/render.ts';
import { sampleScene, type SampleOptions } from '../../fixtures/sample.ts';

/** One rendered photo read with its true marks. */
export interface Measured {
  readonly seed: number;
  readonly scene: RenderedScene;
  readonly steps: StepSet;
  readonly levelled: Levelled;
  /** Read minus true L*, per step. */
  readonly errors: readonly number[];
}

export const measure = async (seed: number, options: SampleOptions): Promise<Measured> => {
  const scene = await renderScene(sampleScene(seed, options));
  const photo = await decodePhoto(scene.bytes);
  const strip = parseStrip(scene.strip);
  const levelled = level(cutTiles(photo, parseMarks(scene.marks)), strip, photo.profile, 1);
  const steps = readSteps(levelled, photo.profile);
  return { seed, scene, steps, levelled, errors: steps.steps.map((s, i) => s.L - scene.truth.steps[i].L) };
};
