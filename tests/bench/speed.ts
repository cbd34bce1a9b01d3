import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import sharp from 'sharp';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import { peakMegabytes } from './speedMemory.ts';
import { asHeic, phonePhoto, resized, sheetPhoto, type TimedPhoto } from './speedPhotos.ts';
import { measureReduced } from './speedReduced.ts';
import { stagesOf } from './speedStages.ts';
import { percentile } from './tables.ts';

const RUNS = 7;
const FEWER_RUNS = 3;

type Work = () => Promise<unknown>;

/** Turns before times count: V8 compiles what a reading runs over its first dozen, as a server's do by itself. */
const WARM_UP = 12;

/** Medians in milliseconds, the works taking turns, once the process is warm. */
const medians = async (works: readonly Work[], runs: number): Promise<number[]> => {
  const times = works.map(() => [] as number[]);
  for (let run = 0; run < WARM_UP + runs; run++)
    for (const [i, work] of works.entries()) {
      const start = performance.now();
      await work();
      if (run >= WARM_UP) times[i].push(performance.now() - start);
    }
  return times.map((of) => percentile(of, 50));
};

const bareDecode =
  ({ bytes }: TimedPhoto): Work =>
  () =>
    sharp(bytes).raw().toBuffer();

const reading = ({ bytes, strip, marks }: TimedPhoto, given = marks !== null): Work => {
  const parsed = parseStrip(strip);
  const options = given ? { marks: parseMarks(marks) } : {};
  return () => readStrip(bytes, parsed, options);
};

const ms = (value: number): string => `${value.toFixed(0)} ms`;
const ratio = (value: number, to: number): string => `${(value / to).toFixed(2)} ×`;
const megabytes = ({ bytes }: TimedPhoto): string => `${(bytes.length / 1e6).toFixed(2)} MB`;

const againstDecode = async (
  size: string,
  photo: TimedPhoto,
  works: readonly (readonly [string, Work])[],
  runs: number,
  decode: readonly [string, Work] = ['bare decode', bareDecode(photo)],
): Promise<string[][]> => {
  const all = [decode, ...works];
  const times = await medians(
    all.map(([, work]) => work),
    runs,
  );
  return all.map(([name], i) => [name, size, ms(times[i]), ratio(times[i], times[0]), megabytes(photo)]);
};

const stageRows = async (photo: TimedPhoto, size: string): Promise<string[][]> => {
  const runs: ReadonlyMap<string, number>[] = [];
  for (let run = 0; run <= RUNS; run++) runs.push(await stagesOf(photo));
  const [, ...counted] = runs;
  return [...counted[0].keys()].map((stage) => {
    const times = counted.map((of) => of.get(stage) ?? 0);
    return [stage, size, `${percentile(times, 50).toFixed(1)} ms`];
  });
};

const memoryRows = async (
  photos: readonly (readonly [string, TimedPhoto])[],
  folder: string,
): Promise<string[][]> => {
  const rows: string[][] = [];
  for (const [name, photo] of photos) {
    const at = async (job: 'read' | 'decode' | 'nothing') =>
      `${(await peakMegabytes(photo, folder, job)).toFixed(0)} MB`;
    rows.push([name, 'full reading', await at('read'), 'decoded alone', await at('decode')]);
    if (rows.length === photos.length) rows.push(['no photo', 'program alone', await at('nothing')]);
  }
  return rows;
};

/**
 * How long does a reading take against a bare decode of the same bytes, where does the time go, how does it grow with
 * pixels and steps, and how much memory does it take? Rows of a table, headings among them.
 *
 * The photo is rendered with a phone's noise and JPEG; the one of 48 MP is the one of 12 enlarged, with noise of its own.
 */
export async function* measureSpeed(): AsyncGenerator<string[]> {
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-speed-'));
  try {
    const photo = await phonePhoto(4000, 3000);
    const begun = performance.now();
    await reading(photo)();
    yield ['first reading', '12 MP JPEG', ms(performance.now() - begun), 'of a process: code is loaded'];
    yield* await againstDecode(
      '12 MP JPEG',
      photo,
      [
        ['reading, marks given', reading(photo)],
        ['reading, marks found', reading(photo, false)],
      ],
      RUNS,
    );
    const sheet = await sheetPhoto();
    yield* await againstDecode('12 MP, sheet', sheet, [['reading, sheet found', reading(sheet)]], RUNS);
    const large = await resized(photo, 8000, 6000);
    yield* await againstDecode(
      '48 MP JPEG',
      large,
      [
        ['reading, marks given', reading(large)],
        ['reading, marks found', reading(large, false)],
      ],
      FEWER_RUNS,
    );
    const heic = asHeic(photo, folder);
    if (heic)
      yield* await againstDecode('12 MP HEIC', heic, [['reading, marks given', reading(heic)]], FEWER_RUNS, [
        'its decode alone',
        () => decodePhoto(heic.bytes),
      ]);
    else yield ['HEIC', 'left out: this machine has no heif-enc to write one'];

    yield ['Where the time goes: stages of one reading, marks given, then on the sheet'];
    yield* await stageRows(photo, '12 MP');
    yield* await stageRows(sheet, '12 MP, sheet');

    yield ['Time against pixels, 7 steps, marks given: bare decode, reading, what the reading adds'];
    for (const [size, width, height] of [
      ['0.75 MP', 1000, 750],
      ['3 MP', 2000, 1500],
      ['12 MP', 4000, 3000],
      ['48 MP', 8000, 6000],
    ] as const) {
      const one = width === 4000 ? photo : width === 8000 ? large : await resized(photo, width, height);
      const [bare, whole] = await medians([bareDecode(one), reading(one)], FEWER_RUNS);
      yield ['', size, ms(bare), ms(whole), ms(whole - bare)];
    }
    yield ['Time against steps, 3 MP, marks given: bare decode, reading, what the reading adds'];
    for (const steps of [3, 5, 8, 12]) {
      const one = await phonePhoto(2000, 1500, steps);
      const [bare, whole] = await medians([bareDecode(one), reading(one)], FEWER_RUNS);
      yield ['', `${steps} steps`, ms(bare), ms(whole), ms(whole - bare)];
    }
    yield ['Peak memory of a process that reads one photo, Node.js and the program included'];
    yield* await memoryRows(
      [
        ['12 MP JPEG', photo],
        ['12 MP, sheet', sheet],
        ...(heic ? [['12 MP HEIC', heic] as const] : []),
        ['48 MP JPEG', large],
      ],
      folder,
    );
    yield ['Large JPEGs measured in fewer pixels: what that does to readings'];
    yield* measureReduced();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
