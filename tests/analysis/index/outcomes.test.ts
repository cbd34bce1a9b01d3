import { beforeAll, describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { type ReadOptions, readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { METHOD_VERSION } from '../../../analysis/methodVersion.ts';
import type { Reading } from '../../../analysis/reading.ts';
import { type RenderedScene, renderScene } from '../../../fixtures/render.ts';
import { drawn, HEIGHT_PX, readRendered, readSpec, WIDTH_PX } from './scenes.ts';

const SPEC = drawn(512, {
  card: 'white-grey-black',
  surround: 'plain',
  pieces: 'contiguous',
  dye: 'blueprint',
  cloth: 'cotton',
  law: 'exponential',
  reach: 'usual',
  steps: 6,
  base: true,
});

let scene: RenderedScene;
let whole: Reading;
beforeAll(async () => {
  scene = await renderScene(SPEC);
  whole = await readRendered(scene);
}, 60_000);

/** The same photo, of whose steps only these are said to be on it. */
const readOnly = (keep: readonly number[], options: ReadOptions = {}): Promise<Reading> => {
  const steps = keep.map((i) => scene.marks.steps[i]);
  const strip = parseStrip({ ...scene.strip, steps: steps.map(({ seconds }) => ({ seconds })) });
  return readStrip(scene.bytes, strip, { marks: parseMarks({ ...scene.marks, steps }), ...options });
};

/** Everything that JSON can't carry or would change, by its place. */
const notJson = (value: unknown, place = 'reading'): string[] => {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${place} is ${value}`];
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return [];
  if (Array.isArray(value)) return value.flatMap((v, i) => notJson(v, `${place}[${i}]`));
  if (typeof value === 'object' && Object.getPrototypeOf(value) === Object.prototype)
    return Object.entries(value).flatMap(([key, v]) => notJson(v, `${place}.${key}`));
  return [`${place} is ${typeof value === 'object' ? 'no plain object' : typeof value}`];
};

describe('a reading', () => {
  it('is plain data without NaN or Infinity, and the same when written as JSON and read back', () => {
    expect(notJson(whole)).toEqual([]);
    expect(JSON.parse(JSON.stringify(whole))).toStrictEqual(whole);
  });

  it('is the same, to the last digit, for the same photo and seed', async () => {
    expect(await readRendered(scene, { seed: 1 })).toStrictEqual(whole);
  });

  it('with another seed keeps the steps within 0.2 L* and the time for half depth within its interval', async () => {
    const target = { kind: 'depth', percent: 50 } as const;
    const one = await readRendered(scene, { target });
    const other = await readRendered(scene, { target, seed: 99 });
    other.steps.forEach((step, i) => {
      expect(Math.abs(step.L - one.steps[i].L)).toBeLessThan(0.2);
    });
    expect(other.advice.seconds).toBeGreaterThan(one.advice.low!);
    expect(other.advice.seconds).toBeLessThan(one.advice.high!);
  });

  it('leaves the photo’s bytes as they were', async () => {
    expect(scene.bytes.equals((await renderScene(SPEC)).bytes)).toBe(true);
  });

  it('says which photo, marks and method it is from', () => {
    expect(whole.photo).toMatchObject({ widthPx: WIDTH_PX, heightPx: HEIGHT_PX, format: 'jpeg' });
    expect(whole.marks).toEqual(parseMarks(scene.marks));
    expect(whole.methodVersion).toBe(METHOD_VERSION);
    expect(whole.repeatability).toBeNull();
  });

  it('keeps a verdict and its reason per step: washed-out at the base, with numbers in the reason', () => {
    expect(whole.steps[0].verdict).toBe('washed-out');
    for (const { reason } of whole.steps) expect(reason).toMatch(/\d/);
  });

  it('answers a target of L* between its second and fifth step by a time between their times', async () => {
    const L = (whole.steps[1].L + whole.steps[4].L) / 2;
    const { advice } = await readRendered(scene, { target: { kind: 'L', L } });
    expect(advice.status).toBe('inside');
    expect(advice.seconds).toBeGreaterThan(whole.steps[1].seconds);
    expect(advice.seconds).toBeLessThan(whole.steps[4].seconds);
    expect(advice.low).toBeLessThan(advice.seconds!);
    expect(advice.high).toBeGreaterThan(advice.seconds!);
    const truth = scene.truth.exposureForL(L)!;
    expect(Math.abs(Math.log2(advice.seconds! / truth))).toBeLessThan(0.3);
  });
});

describe('a strip with little on it is read all the same', () => {
  it('with one exposed step and the base: both L* as before within 0.3, and too few steps', async () => {
    const reading = await readOnly([0, 3]);
    expect(reading.advice.status).toBe('too-few-steps');
    expect(reading.curve.kind).toBe('too-few-steps');
    expect(reading.advice.seconds).toBeNull();
    expect(reading.advice.nextStrip).not.toBeNull();
    expect(Math.abs(reading.steps[0].L - whole.steps[0].L)).toBeLessThan(0.3);
    expect(Math.abs(reading.steps[1].L - whole.steps[3].L)).toBeLessThan(0.3);
    expect(notJson(reading)).toEqual([]);
  });

  it('with a single step and nothing else: its L*, no difference to a base, too few steps', async () => {
    const reading = await readOnly([3]);
    expect(reading.advice.status).toBe('too-few-steps');
    expect(reading.steps).toHaveLength(1);
    expect(reading.steps[0].deltaEToBase).toBeNull();
    expect(reading.steps[0].deltaEToPrevious).toBeNull();
    expect(Math.abs(reading.steps[0].L - whole.steps[3].L)).toBeLessThan(0.4);
    expect(notJson(reading)).toEqual([]);
  });

  it('without its base: five steps, a curve, and no ΔE00 to a base', async () => {
    const reading = await readOnly([1, 2, 3, 4, 5]);
    expect(reading.steps.map((s) => s.deltaEToBase)).toEqual([null, null, null, null, null]);
    expect(reading.curve.kind).toBe('fitted');
    expect(notJson(reading)).toEqual([]);
  });

  it('blank, all steps like the base: L* within 1 of each other, and the light source to check first', async () => {
    const { strip } = SPEC;
    const blank = { ...SPEC, strip: { ...strip, fog: 0, stepDye: strip.seconds.map(() => 0) } };
    const { reading } = await readSpec(blank);
    const lightness = reading.steps.map((s) => s.L);
    expect(Math.max(...lightness) - Math.min(...lightness)).toBeLessThan(1);
    expect(reading.curve.kind).toBe('blank');
    expect(reading.advice.seconds).toBeNull();
    expect(reading.advice.sentence).toMatch(/light source/);
    expect(notJson(reading)).toEqual([]);
  });

  it('with one step not marked: read from the rest, with a warning', async () => {
    const marks = parseMarks({ ...scene.marks, steps: scene.marks.steps.slice(0, 5) });
    const reading = await readRendered(scene, { marks });
    expect(reading.steps).toHaveLength(5);
    expect(reading.warnings.map((w) => w.code)).toContain('steps-not-marked');
  });

  it('with its white blown out: that patch left out with the reason, the steps within 3 uncertainties or 1 L*', async () => {
    const blown = { ...SPEC, camera: { ...SPEC.camera, overexposureStops: 1.2 } };
    const { reading, scene: photo } = await readSpec(blown);
    expect(reading.tone.patchesRefused.map((p) => p.name)).toEqual(['white']);
    expect(reading.tone.patchesRefused[0].reason).toContain('clipped');
    expect(reading.warnings.map((w) => w.code)).toContain('card-patch-refused');
    reading.steps.forEach((step, i) => {
      if (step.clippedShare < 0.01)
        expect(Math.abs(step.L - photo.truth.steps[i].L)).toBeLessThan(Math.max(3 * step.uL, 1));
    });
    expect(reading.steps.filter((s) => s.clippedShare < 0.01).length).toBeGreaterThanOrEqual(3);
  });
});

describe('input that cannot be read is refused', () => {
  const codeOf = async (run: () => Promise<unknown>): Promise<string> => {
    try {
      await run();
    } catch (error) {
      if (error instanceof AnalysisError) return error.code;
      throw error;
    }
    throw new Error('was not refused');
  };
  const moved = (change: (x: number, y: number) => readonly [number, number]) => {
    const turn = <T extends { readonly quad: readonly (readonly [number, number])[] }>(mark: T) => ({
      ...mark,
      quad: mark.quad.map(([x, y]) => change(x, y)),
    });
    return parseMarks({ card: scene.marks.card.map(turn), steps: scene.marks.steps.map(turn) });
  };
  const renamed = (names: Readonly<Record<string, string>>) =>
    parseMarks({
      ...scene.marks,
      card: scene.marks.card.map((m) => ({ ...m, name: names[m.name] ?? m.name })),
    });

  it.each([
    ['photo-unreadable', 'an empty file', ''],
    ['photo-format-unsupported', 'text instead of a photo', 'no photo at all'],
  ] as const)('as %s: %s', async (code, _, text) => {
    const bytes = new TextEncoder().encode(text);
    expect(await codeOf(() => readStrip(bytes, parseStrip(scene.strip)))).toBe(code);
  });

  it('as photo-damaged: the first half of a photo', async () => {
    const half = scene.bytes.subarray(0, scene.bytes.length / 2);
    const marks = parseMarks(scene.marks);
    expect(await codeOf(() => readStrip(half, parseStrip(scene.strip), { marks }))).toBe('photo-damaged');
  });

  it('as marks-outside-photo: marks 5000 pixels off', async () => {
    const marks = moved((x, y) => [x + 5000, y]);
    expect(await codeOf(() => readRendered(scene, { marks }))).toBe('marks-outside-photo');
  });

  it('as marks-too-small: marks shrunk to a fortieth', async () => {
    const marks = moved((x, y) => [x / 40, y / 40]);
    expect(await codeOf(() => readRendered(scene, { marks }))).toBe('marks-too-small');
  });

  it('as marks-invalid: marks of a strip with other times, or of another card', async () => {
    const steps = scene.marks.steps.map((m) => ({ ...m, seconds: m.seconds + 1 }));
    const marks = parseMarks({ ...scene.marks, steps });
    expect(await codeOf(() => readRendered(scene, { marks }))).toBe('marks-invalid');
    expect(await codeOf(() => readRendered(scene, { marks: renamed({ white: 'D0.05' }) }))).toBe(
      'marks-invalid',
    );
  });

  it('as card-unusable: white and black mixed up', async () => {
    const marks = renamed({ white: 'black', black: 'white' });
    expect(await codeOf(() => readRendered(scene, { marks }))).toBe('card-unusable');
  });

  it('as target-invalid: an L* of 140', async () => {
    const target = { kind: 'L', L: 140 } as const;
    expect(await codeOf(() => readRendered(scene, { target }))).toBe('target-invalid');
  });
});
