import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import sharp from 'sharp';
import { normalSource } from '../../fixtures/noise.ts';
import { samplePaperScene } from '../../fixtures/paper.ts';
import { photographPaper } from '../../fixtures/paperPhoto.ts';
import { type RenderedScene, renderScene } from '../../fixtures/render.ts';
import { sampleScene } from '../../fixtures/sample.ts';
import type { CameraSpec } from '../../fixtures/spec.ts';
import { pageOf } from './sheetMeasure.ts';

/** A photo to be timed, with what its reading needs as plain JSON. */
export interface TimedPhoto {
  readonly bytes: Uint8Array;
  readonly strip: unknown;
  readonly marks: unknown;
}

const SEED = 90_777;
/** Quality and subsampling of phones' own JPEGs. Common practice, no source. */
const PHONE_JPEG = { quality: 95, chromaSubsampling: '4:2:0' } as const;
/** Variance of the noise against the accuracy bench's: two codes in mid grey, as a phone's indoors. No source. */
const NOISIER = 10;

/** The same camera with the noise of a phone indoors. */
export const noisier = (camera: CameraSpec): CameraSpec => ({
  ...camera,
  shotNoise: camera.shotNoise * NOISIER,
  readNoise: camera.readNoise * Math.sqrt(NOISIER),
});

const timed = ({ bytes, strip, marks }: RenderedScene): TimedPhoto => ({ bytes, strip, marks });

/** A strip beside a card on a plain table, as a phone writes it. */
export const phonePhoto = async (widthPx: number, heightPx: number, steps = 7): Promise<TimedPhoto> => {
  const spec = sampleScene(SEED, {
    card: 'white-grey-black',
    surround: 'plain',
    steps,
    base: true,
    widthPx,
    heightPx,
  });
  return timed(
    await renderScene({
      ...spec,
      camera: noisier(spec.camera),
      output: { ...spec.output, quality: PHONE_JPEG.quality, subsampling: '4:2:0' },
    }),
  );
};

/** Card and strip on the measuring sheet, 4000 × 3000 px. */
export const sheetPhoto = async (): Promise<TimedPhoto> => {
  const page = await pageOf('a4', 300);
  const paper = samplePaperScene(SEED, page, { widthPx: 4000, heightPx: 3000 });
  const { scene } = paper;
  const photo = await photographPaper(
    {
      ...paper,
      scene: {
        ...scene,
        camera: noisier(scene.camera),
        output: { ...scene.output, quality: PHONE_JPEG.quality },
      },
    },
    page,
  );
  return { ...timed(photo), marks: null };
};

type Quads = readonly { readonly quad: readonly (readonly [number, number])[] }[];

/** Every number of a mark's corners multiplied. */
const scaledMarks = (marks: unknown, factor: number): unknown => {
  const scaled = (quads: Quads) =>
    quads.map((one) => ({ ...one, quad: one.quad.map(([x, y]) => [x * factor, y * factor]) }));
  const { card, steps } = marks as { readonly card: Quads; readonly steps: Quads };
  return { ...(marks as object), card: scaled(card), steps: scaled(steps) };
};

const NOISE_TABLE = 1 << 16;

/** Noise of `sd` codes in every sample, from a table entered at another place in every row. */
const addNoise = (samples: Uint8Array, rowLength: number, sd: number): void => {
  const normal = normalSource(SEED, 20);
  const table = Float32Array.from({ length: NOISE_TABLE }, () => sd * normal());
  const random = xoroshiro128plus(SEED);
  for (let start = 0; start < samples.length; start += rowLength) {
    const from = uniformInt(random, 0, NOISE_TABLE - 1);
    for (let i = 0; i < rowLength; i++) {
      const value = samples[start + i] + table[(from + i) & (NOISE_TABLE - 1)] + 0.5;
      samples[start + i] = Math.min(255, Math.max(0, value));
    }
  }
};

/** The same picture in other pixels; an enlarged one gets the noise of a sensor with so many. */
export const resized = async (photo: TimedPhoto, widthPx: number, heightPx: number): Promise<TimedPhoto> => {
  const { width } = await sharp(photo.bytes).metadata();
  const { data } = await sharp(photo.bytes)
    .resize(widthPx, heightPx, { fit: 'fill', kernel: 'cubic' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  if (widthPx > width) addNoise(data, 3 * widthPx, 2);
  const bytes = await sharp(data, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .jpeg(PHONE_JPEG)
    .toBuffer();
  return { ...photo, bytes, marks: scaledMarks(photo.marks, widthPx / width) };
};

/** The same picture as HEIC, by the machine's own `heif-enc`; null where it has none. */
export const asHeic = (photo: TimedPhoto, folder: string): TimedPhoto | null => {
  const [from, to] = [join(folder, 'photo.jpg'), join(folder, 'photo.heic')];
  writeFileSync(from, photo.bytes);
  try {
    execFileSync('heif-enc', ['-q', '60', '-p', 'preset=ultrafast', from, '-o', to], { stdio: 'ignore' });
  } catch {
    return null;
  }
  return { ...photo, bytes: readFileSync(to) };
};
