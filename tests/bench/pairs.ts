import { median } from 'simple-statistics';
import { deltaE00 } from '../../analysis/colour/difference.ts';
import { readStrip, readStripPhotos } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { type RenderedScene, renderScene } from '../../fixtures/render.ts';
import { sampleScene, turnedEndForEnd } from '../../fixtures/sample.ts';
import type { SceneSpec } from '../../fixtures/spec.ts';
import { rms } from './tables.ts';

/** Two photos of one rendered strip beside one card, under other light and by another camera each. */
export interface PairResult {
  readonly surround: string;
  /** ΔE00 between the two readings, per step. */
  readonly deltaE: readonly number[];
  /** |ΔL*| between them, per step. */
  readonly deltaL: readonly number[];
}

const SURROUNDS = ['plain', 'patterned', 'dark'] as const;

const read = (scene: RenderedScene) =>
  readStrip(scene.bytes, parseStrip(scene.strip), { marks: parseMarks(scene.marks) });

/** How much do two readings of one strip differ? The second photo has light, camera, pose and table of its own. */
export const readPair = async (seed: number, index: number): Promise<PairResult> => {
  const surround = SURROUNDS[index % SURROUNDS.length];
  const options = { card: 'white-grey-black', surround, widthPx: 1200, heightPx: 900 } as const;
  const one = await read(await renderScene(sampleScene(seed, options)));
  const other = await read(await renderScene(sampleScene(seed, { ...options, cameraSeed: seed + 700_000 })));
  return {
    surround,
    deltaE: one.steps.map((s, i) => deltaE00(s, other.steps[i])),
    deltaL: one.steps.map((s, i) => Math.abs(s.L - other.steps[i].L)),
  };
};

/** A strip photographed twice on a table that tells nothing of the light, the second time turned end for end. */
export interface TurnedResult {
  /** Root mean square error of L* over the steps: of the first photo alone, and of both together. */
  readonly alone: number;
  readonly together: number;
  readonly uAlone: number;
  readonly uTogether: number;
  readonly within: readonly boolean[];
}

/** The frame cut close about card and strip: hardly any table is left to tell of the light. */
const closeUp = (spec: SceneSpec): SceneSpec => ({
  ...spec,
  layout: { ...spec.layout, gapMm: 4 },
  pose: { ...spec.pose, fill: 0.97, shiftX: 0, shiftY: 0 },
  surround: { ...spec.surround, grain: 0.3 },
});

export const readTurned = async (seed: number): Promise<TurnedResult> => {
  const options = {
    card: 'white-grey-black',
    surround: 'patterned',
    pieces: 'contiguous',
    widthPx: 1200,
    heightPx: 900,
  } as const;
  const spec = closeUp(sampleScene(seed, options));
  const one = await renderScene(spec);
  const other = await renderScene(turnedEndForEnd(spec));
  const strip = parseStrip(one.strip);
  const photoOf = (scene: RenderedScene) => ({ bytes: scene.bytes, marks: parseMarks(scene.marks) });
  const alone = await read(one);
  const both = await readStripPhotos([photoOf(one), photoOf(other)], strip);
  const errors = (steps: typeof alone.steps) => steps.map((s, i) => s.L - one.truth.steps[i].L);
  return {
    alone: rms(errors(alone.steps)),
    together: rms(errors(both.steps)),
    uAlone: median(alone.steps.map((s) => s.uL)),
    uTogether: median(both.steps.map((s) => s.uL)),
    within: errors(both.steps).map((e, i) => Math.abs(e) <= 1.645 * both.steps[i].uL),
  };
};
