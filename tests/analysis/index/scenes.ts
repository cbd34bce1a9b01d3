import { type ReadOptions, readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../../analysis/reading.ts';
import { type RenderedScene, renderScene } from '../../../fixtures/render.ts';
import { type SampleOptions, sampleScene } from '../../../fixtures/sample.ts';
import type { SceneSpec } from '../../../fixtures/spec.ts';

export const WIDTH_PX = 1000;
export const HEIGHT_PX = 750;

/** A scene of 1000 × 750 pixels without defects, drawn by its seed. */
export const drawn = (seed: number, options: SampleOptions): SceneSpec =>
  sampleScene(seed, { widthPx: WIDTH_PX, heightPx: HEIGHT_PX, defects: false, ...options });

export interface ReadScene {
  readonly scene: RenderedScene;
  readonly reading: Reading;
}

/** A rendered scene read with its true marks. */
export const readRendered = (scene: RenderedScene, options: ReadOptions = {}): Promise<Reading> =>
  readStrip(scene.bytes, parseStrip(scene.strip), { marks: parseMarks(scene.marks), ...options });

export const readSpec = async (spec: SceneSpec, options: ReadOptions = {}): Promise<ReadScene> => {
  const scene = await renderScene(spec);
  return { scene, reading: await readRendered(scene, options) };
};

/** Read minus true L*, per step. */
export const errorsL = ({ scene, reading }: ReadScene): number[] =>
  reading.steps.map((step, i) => step.L - scene.truth.steps[i].L);

export const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
