import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { readStrip, readStripPhotos, type StripPhoto } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import type { Marks, Quad } from '../../../analysis/locate/marks.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { quadCentre } from '../../../analysis/locate/quadGeometry.ts';
import { markedPicture } from '../../../analysis/markedPicture.ts';
import { decodePhoto, decodeToMeasure } from '../../../analysis/photo/decode.ts';
import type { Reading } from '../../../analysis/reading.ts';
import { type RenderedScene, renderScene } from '../../../fixtures/render.ts';
import { sampleScene } from '../../../fixtures/sample.ts';
import type { SceneSpec } from '../../../fixtures/spec.ts';

/** A photo of 1200 × 900 px and the same enlarged to 3600 × 2700, which is measured in 1200 × 900. */
const TIMES = 3;
const scene = (seed: number, options: Parameters<typeof sampleScene>[1] = {}): SceneSpec =>
  sampleScene(seed, {
    card: 'white-grey-black',
    surround: 'plain',
    widthPx: 1200,
    heightPx: 900,
    defects: false,
    ...options,
  });

const enlarged = ({ bytes }: RenderedScene): Promise<Buffer> =>
  sharp(bytes)
    .resize(TIMES * 1200, TIMES * 900, { fit: 'fill', kernel: 'cubic' })
    .jpeg({ quality: 95 })
    .toBuffer();

const times = (marks: Marks, factor: number): Marks => {
  const quad = (of: Quad) => of.map(([x, y]) => [factor * x, factor * y]) as unknown as Quad;
  return {
    ...marks,
    card: marks.card.map((mark) => ({ ...mark, quad: quad(mark.quad) })),
    steps: marks.steps.map((mark) => ({ ...mark, quad: quad(mark.quad) })),
  };
};

/** Furthest that the middle of a step or card patch lies from where it is, pixels. */
const furthest = (found: Marks, marks: Marks): number => {
  const off = (one: Quad, other: Quad) => {
    const [[x, y], [u, v]] = [quadCentre(one), quadCentre(other)];
    return Math.hypot(x - u, y - v);
  };
  return Math.max(
    ...marks.steps.map(({ quad }, i) => off(found.steps[i].quad, quad)),
    ...marks.card.map(({ name, quad }) => off(found.card.find((patch) => patch.name === name)!.quad, quad)),
  );
};

const codesOf = ({ warnings }: Reading): string[] => warnings.map(({ code }) => code);

describe('a photo of 3600 × 2700 px, measured in 1200 × 900', () => {
  let small: RenderedScene;
  let large: Buffer;
  let marks: Marks;
  let reading: Reading;
  beforeAll(async () => {
    small = await renderScene(scene(9301));
    large = await enlarged(small);
    marks = times(parseMarks(small.marks), TIMES);
    reading = await readStrip(large, parseStrip(small.strip), { marks });
  }, 60_000);

  it('says its own size and gives back the very marks that it was given', () => {
    expect([reading.photo.widthPx, reading.photo.heightPx]).toEqual([3600, 2700]);
    expect(reading.marks.steps.map(({ quad }) => quad)).toEqual(marks.steps.map(({ quad }) => quad));
    expect(reading.marks.card.map(({ quad }) => quad)).toEqual(marks.card.map(({ quad }) => quad));
  });

  it('reads the same L* as the small one, within half of u(L*)', async () => {
    const other = await readStrip(small.bytes, parseStrip(small.strip), { marks: parseMarks(small.marks) });
    expect(reading.steps).toHaveLength(other.steps.length);
    for (const [i, { L, uL }] of reading.steps.entries())
      expect(Math.abs(L - other.steps[i].L)).toBeLessThan(0.5 * uL);
  });

  it('finds marks in pixels of the large photo, and at taps in its pixels: within 30 px of where they are', async () => {
    const strip = parseStrip(small.strip);
    expect(furthest((await readStrip(large, strip)).marks, marks)).toBeLessThan(30);
    const middle = ({ quad }: { readonly quad: Quad }) => [quad[0][0] + 30, quad[0][1] + 30] as const;
    const taps = { card: middle(marks.card[0]), strip: middle(marks.steps[0]) };
    expect(furthest((await readStrip(large, strip, { taps })).marks, marks)).toBeLessThan(30);
  });

  it('names the large photo where a mark or a tap lies outside it', async () => {
    const strip = parseStrip(small.strip);
    await expect(readStrip(large, strip, { marks: times(marks, 2) })).rejects.toMatchObject({
      code: 'marks-outside-photo',
      message: expect.stringContaining('3600 × 2700'),
    });
    await expect(readStrip(large, strip, { taps: { card: [4000, 10] } })).rejects.toMatchObject({
      message: expect.stringContaining('3600 × 2700'),
    });
  });

  it('is measured whole where a mark is less than 94 px across: 31.25 in the small picture hold five tiles to a side', async () => {
    const picture = await decodeToMeasure(large);
    expect((await markedPicture(large, picture, marks)).photo).toBe(picture);
    const [first, ...others] = marks.steps;
    const [x, y] = first.quad[0];
    const of = (side: number): Marks => ({
      ...marks,
      steps: [
        {
          ...first,
          quad: [
            [x, y],
            [x + side, y],
            [x + side, y + side],
            [x, y + side],
          ],
        },
        ...others,
      ],
    });
    expect((await markedPicture(large, picture, of(95))).photo).toBe(picture);
    const whole = await markedPicture(large, picture, of(93));
    expect(whole.photo.widthPx).toBe(3600);
    expect(whole.marks).toEqual(of(93));
  });

  it('reads the same from a picture decoded before', async () => {
    const photo: StripPhoto = { bytes: large, decoded: await decodeToMeasure(large), marks };
    expect(await readStripPhotos([photo], parseStrip(small.strip))).toEqual(reading);
  });
});

describe('what a mean of pixels might hide is still found in a large photo', () => {
  it.each([
    [
      'overexposed by a stop',
      'card-clipped',
      (spec: SceneSpec): SceneSpec => ({
        ...spec,
        camera: { ...spec.camera, whiteEncoded: 0.97, overexposureStops: 1 },
      }),
    ],
    ['glare', 'glare', (spec: SceneSpec): SceneSpec => spec],
    ['blurred', 'photo-blurred', (spec: SceneSpec): SceneSpec => spec],
  ] as const)('%s: %s', async (_, code, spoil) => {
    const fault =
      code === 'glare' ? ('glare' as const) : code === 'photo-blurred' ? ('blur' as const) : undefined;
    const small = await renderScene(spoil(scene(8201, fault ? { fault } : { tone: 'plain' })));
    const large = await enlarged(small);
    const marks = times(parseMarks(small.marks), TIMES);
    const strip = parseStrip(small.strip);
    const read = (decoded: Awaited<ReturnType<typeof decodePhoto>>) =>
      readStripPhotos([{ bytes: large, decoded, marks }], strip);
    const reduced = await read(await decodeToMeasure(large));
    expect(codesOf(reduced)).toContain(code);
    expect(codesOf(reduced).sort()).toEqual(codesOf(await read(await decodePhoto(large))).sort());
  });
});
