import { beforeAll, describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { readStripPhotos, type StripPhoto } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../../analysis/reading.ts';
import { arrange } from '../../../fixtures/layout.ts';
import { type RenderedScene, renderScene } from '../../../fixtures/render.ts';
import { turnedEndForEnd } from '../../../fixtures/sample.ts';
import type { SceneSpec } from '../../../fixtures/spec.ts';
import { drawn, errorsL, readRendered, rms } from './scenes.ts';

const photoOf = (scene: RenderedScene): StripPhoto => ({
  bytes: scene.bytes,
  marks: parseMarks(scene.marks),
});
const together = ([first, ...others]: readonly RenderedScene[]): Promise<Reading> =>
  readStripPhotos([photoOf(first), ...others.map(photoOf)], parseStrip(first.strip));
const largest = (values: readonly number[]) => Math.max(...values);

describe('three photos of one strip under three lights and cameras', () => {
  let scenes: readonly RenderedScene[];
  let single: readonly Reading[];
  let all: Reading;
  beforeAll(async () => {
    scenes = [];
    single = [];
    for (const cameraSeed of [1, 2, 3]) {
      const scene = await renderScene(
        drawn(601, {
          card: 'white-grey-black',
          surround: 'plain',
          pieces: 'contiguous',
          steps: 5,
          base: true,
          cameraSeed,
        }),
      );
      scenes = [...scenes, scene];
      single = [...single, await readRendered(scene)];
    }
    all = await together(scenes);
  }, 120_000);

  it('give each step the mean of their L*, a* and b*', () => {
    all.steps.forEach((step, i) => {
      for (const axis of ['L', 'a', 'b'] as const)
        expect(step[axis]).toBeCloseTo(single.reduce((s, r) => s + r.steps[i][axis], 0) / 3, 9);
    });
  });

  it('agree pairwise within 1.0 ΔE of L* in the median, and together within 1 L* of the truth', () => {
    const pairs = [0, 1, 2].flatMap((p) =>
      single[p].steps.map((s, i) => Math.abs(s.L - single[(p + 1) % 3].steps[i].L)),
    );
    pairs.sort((a, b) => a - b);
    expect(pairs[pairs.length >> 1]).toBeLessThan(1);
    expect(rms(errorsL({ scene: scenes[0], reading: all }))).toBeLessThan(1);
  });

  it('shrink the largest uncertainty to 95 % of what single photos have on average, or less', () => {
    const largestU = (r: Reading) => largest(r.steps.map((s) => s.uL));
    expect(largestU(all)).toBeLessThan(
      (0.95 * single.reduce((sum, r) => sum + largestU(r), 0)) / single.length,
    );
  });

  it('leave the parts of cloth and card as they are, and shrink light and tone', () => {
    all.steps.forEach((step, i) => {
      for (const part of ['step', 'card'] as const)
        expect(step.budget[part]).toBeCloseTo(single.reduce((s, r) => s + r.steps[i].budget[part], 0) / 3, 9);
      for (const part of ['illumination', 'tone'] as const)
        expect(step.budget[part]).toBeLessThan(largest(single.map((r) => r.steps[i].budget[part])));
    });
  });

  it('report how well they agree: three photos, by the spread of their L*', () => {
    const spread = all.steps.map((step, i) => single.reduce((s, r) => s + (r.steps[i].L - step.L) ** 2, 0));
    expect(all.repeatability!.photos).toBe(3);
    expect(all.repeatability!.measuredL).toBeCloseTo(
      Math.sqrt(spread.reduce((s, v) => s + v, 0) / (2 * all.steps.length)),
      9,
    );
    expect(all.repeatability!.expectedL).toBeGreaterThan(0.1);
    expect(all.repeatability!.expectedL).toBeLessThan(1);
  });

  it('report light, tone, marks and photo of the first', () => {
    expect(all.marks).toEqual(single[0].marks);
    expect(all.tone).toEqual(single[0].tone);
    expect(all.illumination).toEqual(single[0].illumination);
    expect(all.photo).toEqual(single[0].photo);
  });

  it('are refused as marks-invalid where one shows a step less', async () => {
    const fewer = parseMarks({ ...scenes[1].marks, steps: scenes[1].marks.steps.slice(1) });
    const reading = readStripPhotos(
      [photoOf(scenes[0]), { bytes: scenes[1].bytes, marks: fewer }],
      parseStrip(scenes[0].strip),
    );
    await expect(reading).rejects.toBeInstanceOf(AnalysisError);
    await expect(reading).rejects.toMatchObject({ code: 'marks-invalid' });
  });
});

describe('a pair turned end for end, where light falls off by 40 % along the strip and hardly any table shows', () => {
  let one: RenderedScene;
  let other: RenderedScene;
  const errors: number[] = [];
  let singles: Reading[];
  let both: Reading;
  beforeAll(async () => {
    const spec = drawn(713, {
      card: 'white-grey-black',
      surround: 'patterned',
      pieces: 'contiguous',
      cloth: 'cotton',
      steps: 6,
      base: true,
      tone: 'plain',
    });
    const { blotches: _, ...lamp } = spec.light;
    const close = {
      ...spec,
      strip: { ...spec.strip, marginMm: 0 },
      layout: { ...spec.layout, gapMm: 4, cardTurnDegrees: 0, stripTurnDegrees: 0 },
    };
    const { widthMm, heightMm } = arrange(close);
    const tight: SceneSpec = {
      ...close,
      output: { ...close.output, heightPx: Math.round((close.output.widthPx * heightMm) / widthMm) },
      pose: {
        ...close.pose,
        fill: 0.97,
        shiftX: 0,
        shiftY: 0,
        tiltXDegrees: 0,
        tiltYDegrees: 0,
        rollDegrees: 0,
      },
      light: { ...lamp, fallOff: 0.4, linear: 1, lamp: 0, vignette: 0.05, directionDegrees: 0 },
    };
    one = await renderScene(tight);
    other = await renderScene(turnedEndForEnd(tight));
    singles = [await readRendered(one), await readRendered(other)];
    [one, other].forEach((scene, i) => {
      errors.push(rms(errorsL({ scene, reading: singles[i] })));
    });
    both = await together([one, other]);
  }, 120_000);

  it('reads either photo with an RMSE above 2 L*', () => {
    expect(Math.min(...errors)).toBeGreaterThan(2);
  });

  it('reads both together with less than 40 % of the better one’s: the gradient cancels', () => {
    expect(rms(errorsL({ scene: one, reading: both }))).toBeLessThan(0.4 * Math.min(...errors));
  });

  it('says that they are turned, and how far they are apart: a spread above 2 L*', () => {
    expect(both.repeatability!.turned).toBe(true);
    expect(both.repeatability!.measuredL).toBeGreaterThan(2);
  });

  it('states about half of either photo’s uncertainty, and the errors keep within 1.645 of it', () => {
    const alone = largest(singles.map((r) => largest(r.steps.map((s) => s.uL))));
    expect(largest(both.steps.map((s) => s.uL))).toBeLessThan(0.55 * alone);
    errorsL({ scene: one, reading: both }).forEach((e, i) => {
      expect(Math.abs(e)).toBeLessThan(1.645 * both.steps[i].uL);
    });
  });

  it('warns that the light could not be evened out', () => {
    expect(both.warnings.map((w) => w.code)).toContain('light-not-evened');
  });
});
