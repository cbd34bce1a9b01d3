import { AnalysisError } from '../../analysis/errors.ts';
import { readStripPhotos } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { marksInPicture } from '../../analysis/locate/inPicture.ts';
import type { Quad } from '../../analysis/locate/marks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto, decodeToMeasure } from '../../analysis/photo/decode.ts';
import type { Photo } from '../../analysis/photo/photo.ts';
import type { Reading } from '../../analysis/reading.ts';
import { tilePatch } from '../../analysis/tiles/tilePatch.ts';
import { renderScene } from '../../fixtures/render.ts';
import { type SampleOptions, sampleScene } from '../../fixtures/sample.ts';
import { noisier } from './speedPhotos.ts';
import { rms } from './tables.ts';

const SIZE = { widthPx: 4000, heightPx: 3000 };
/** Cards and tables as they come, cloth and dye drawn; then photos with a fault that the check must see in both. */
const FAULTLESS: readonly SampleOptions[] = [
  { card: 'white-grey-black', surround: 'plain' },
  { card: 'grey-scale', surround: 'plain', defects: true },
  { card: 'chart-24', surround: 'dark' },
  { card: 'grey-18', surround: 'plain' },
  { card: 'white-grey-black', surround: 'patterned', reach: 'long' },
  { card: 'grey-scale', surround: 'plain', pieces: 'scraps' },
];
const FAULTY: readonly SampleOptions[] = [
  { card: 'white-grey-black', surround: 'plain', fault: 'glare' },
  { card: 'white-grey-black', surround: 'plain', fault: 'clipped' },
  { card: 'grey-scale', surround: 'plain', fault: 'cast-shadow' },
  { card: 'grey-scale', surround: 'plain', fault: 'small' },
  { card: 'white-grey-black', surround: 'plain', fault: 'blur' },
];
const SEED = 61_200;

type Marked = { readonly quad: Quad };

/** A reading, or why the photo was refused. */
type Outcome = Reading | AnalysisError;

interface BothWays<Of> {
  readonly reduced: Of;
  readonly whole: Of;
  readonly pixels: number;
  readonly trueL: readonly number[];
  /** ln of each step's mean light in the reduced picture over that in the whole one, against the card's lightest patch. */
  readonly lnLight: readonly number[];
}

const bothWays = async (seed: number, options: SampleOptions): Promise<BothWays<Outcome>> => {
  const spec = sampleScene(seed, { ...options, ...SIZE });
  const scene = await renderScene({ ...spec, camera: seed % 2 === 0 ? noisier(spec.camera) : spec.camera });
  const strip = parseStrip(scene.strip);
  const marks = parseMarks(scene.marks);
  const read = (decoded: Photo): Promise<Outcome> =>
    readStripPhotos([{ bytes: scene.bytes, decoded, marks }], strip).catch((error) => {
      if (error instanceof AnalysisError) return error;
      throw error;
    });
  const [picture, photo] = [await decodeToMeasure(scene.bytes), await decodePhoto(scene.bytes)];
  const light = (decoded: Photo, { quad }: Marked): number => {
    const { tiles } = tilePatch(decoded, quad, 'the swatch');
    const pixels = tiles.reduce((sum, tile) => sum + tile.pixels, 0);
    return tiles.reduce((sum, tile) => sum + tile.rgb[1] * tile.pixels, 0) / pixels;
  };
  const here = marksInPicture(marks, picture);
  const change = (there: Marked, i: number, of: 'card' | 'steps') =>
    Math.log(light(picture, here[of][i]) / light(photo, there));
  const lightest = marks.card.reduce(
    (best, patch, i) => (light(photo, patch) > light(photo, marks.card[best]) ? i : best),
    0,
  );
  const common = change(marks.card[lightest], lightest, 'card');
  return {
    reduced: await read(picture),
    whole: await read(photo),
    lnLight: marks.steps.map((step, i) => change(step, i, 'steps') - common),
    pixels: picture.widthPx * picture.heightPx,
    trueL: scene.truth.steps.map(({ L }) => L),
  };
};

const flawsOf = (outcome: Outcome): string =>
  outcome instanceof AnalysisError
    ? `refused, ${outcome.code}`
    : [...new Set(outcome.warnings.map(({ code }) => code))].sort().join(', ') || 'none';

const isRead = (both: BothWays<Outcome>): both is BothWays<Reading> =>
  !(both.reduced instanceof AnalysisError || both.whole instanceof AnalysisError);

/**
 * What does a reading lose where a large JPEG is measured in fewer pixels? Rendered photos of 12 megapixels, every other
 * one with a phone's noise indoors, read in the reduced picture and in the whole one. Rows of a table.
 *
 * The steps' light is that of the marked areas against the card's lightest patch, restated as L*; as read, table light and
 * the card's tone are found anew in each picture.
 */
export async function* measureReduced(): AsyncGenerator<string[]> {
  const all: BothWays<Reading>[] = [];
  let sameFlaws = 0;
  const other: string[][] = [];
  for (const [i, options] of [...FAULTLESS, ...FAULTY].entries()) {
    const both = await bothWays(SEED + i, options);
    const [reduced, whole] = [flawsOf(both.reduced), flawsOf(both.whole)];
    if (reduced === whole) sameFlaws++;
    else other.push(['', `photo ${i + 1}`, `reduced: ${reduced}`, `whole: ${whole}`]);
    if (i < FAULTLESS.length && isRead(both)) all.push(both);
  }
  const stepsOf = (of: (both: BothWays<Reading>, i: number) => number): number[] =>
    all.flatMap((both) => both.reduced.steps.map((_, i) => of(both, i)));
  const change = stepsOf(({ reduced, whole }, i) => reduced.steps[i].L - whole.steps[i].L);
  const colour = stepsOf(({ reduced, whole }, i) =>
    Math.hypot(reduced.steps[i].a - whole.steps[i].a, reduced.steps[i].b - whole.steps[i].b),
  );
  const inU = stepsOf(
    ({ reduced, whole }, i) => Math.abs(reduced.steps[i].L - whole.steps[i].L) / whole.steps[i].uL,
  );
  const u = stepsOf(({ reduced, whole }, i) => reduced.steps[i].uL / whole.steps[i].uL);
  const most = (values: readonly number[]) => Math.max(...values.map(Math.abs));
  const number = (value: number) => value.toFixed(3);
  yield [
    '',
    'photos, steps',
    `${all.length}, ${change.length}`,
    `${(all[0].pixels / 1e6).toFixed(2)} of 12 MP`,
  ];
  yield ['', '', 'rms', 'largest'];
  // dL* / dlnY = (L* + 16) / 3.
  const own = stepsOf(({ whole, lnLight }, i) => (lnLight[i] * (whole.steps[i].L + 16)) / 3);
  yield ['steps’ light, as L*', '', number(rms(own)), number(most(own))];
  yield ['L* as read', '', number(rms(change)), number(most(change))];
  yield ['… as share of u(L*)', '', number(rms(inU)), number(most(inU))];
  yield ['a*, b* as read', '', number(rms(colour)), number(most(colour))];
  const off = (of: 'reduced' | 'whole') => stepsOf((both, i) => both[of].steps[i].L - both.trueL[i]);
  yield ['L* less the truth', 'reduced', number(rms(off('reduced'))), number(most(off('reduced')))];
  yield ['', 'whole', number(rms(off('whole'))), number(most(off('whole')))];
  yield ['u(L*), reduced / whole', '', `${Math.min(...u).toFixed(2)} to`, Math.max(...u).toFixed(2)];
  yield [
    'warnings alike',
    '',
    `${sameFlaws} of ${FAULTLESS.length + FAULTY.length}`,
    'faulty ones among them',
  ];
  yield* other;
}
