import { beforeAll, describe, expect, it } from 'vitest';
import { readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { type RenderedScene, renderScene } from '../../../fixtures/render.ts';
import { sampleScene } from '../../../fixtures/sample.ts';

interface Described {
  readonly steps: readonly { readonly seconds: number }[];
}

const scenes = new Map<number, RenderedScene>();
const sceneOf = (seed: number) => scenes.get(seed) as RenderedScene;
const stepsOf = (seed: number) => (sceneOf(seed).strip as Described).steps;
const bytesOf = (seed: number) => sceneOf(seed).bytes;
const described = (seed: number, steps: Described['steps']) =>
  parseStrip({ ...(sceneOf(seed).strip as object), steps });

/** A contiguous strip beside three patches, and scraps beside a chart on a dark table. */
const STRIP = 810_001;
const SCRAPS = 810_003;

beforeAll(async () => {
  const size = { widthPx: 1200, heightPx: 900 };
  scenes.set(
    STRIP,
    await renderScene(sampleScene(STRIP, { card: 'white-grey-black', surround: 'plain', ...size })),
  );
  scenes.set(
    SCRAPS,
    await renderScene(sampleScene(SCRAPS, { card: 'chart-24', surround: 'dark', pieces: 'scraps', ...size })),
  );
});

describe('times of another number than the steps in the photo', () => {
  it.each([
    ['one too few, for scraps', 'more', SCRAPS, -1],
    ['one too many, for a strip', 'fewer', STRIP, 1],
  ] as const)('%s, give every step its L*, but no curve, time or next strip', async (_, which, seed, by) => {
    const steps = stepsOf(seed);
    const times = by < 0 ? steps.slice(0, -1) : [...steps, { seconds: 2 * steps[steps.length - 1].seconds }];
    const reading = await readStrip(bytesOf(seed), described(seed, times));
    expect(reading.curve.kind).toBe('count-differs');
    expect(reading.steps).toHaveLength(times.length);
    expect(reading.steps.every((step) => step.L > 0 && step.uL > 0)).toBe(true);
    expect(reading.steps.some((step) => step.verdict === 'overexposed')).toBe(false);
    expect(reading.advice).toMatchObject({
      status: 'count-differs',
      seconds: null,
      low: null,
      high: null,
      roundedSeconds: null,
      nextStrip: null,
    });
    expect(reading.advice.sentence).toContain(`${which} steps than the ${times.length} that have a time`);
    expect(reading.warnings.map((warning) => warning.code)).toContain('marks-uncertain');
  });

  it('but the right number gives a curve, and so do marks set by hand', async () => {
    const strip = described(STRIP, stepsOf(STRIP));
    const found = await readStrip(bytesOf(STRIP), strip);
    expect(found.curve.kind).toBe('fitted');
    expect(found.advice.status).not.toBe('count-differs');
    const marks = parseMarks(sceneOf(STRIP).marks);
    const marked = await readStrip(bytesOf(STRIP), strip, { marks });
    expect(marked.curve.kind).toBe('fitted');
  });
});
