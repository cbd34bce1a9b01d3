import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { marksOf } from '../../../fixtures/marks.ts';
import { stripFileOf } from '../../../fixtures/render.ts';
import { truthOf } from '../../../fixtures/truth.ts';
import { bedCells, controlRecords, hempBlueTruth, rustScene, trueLight, trueShift } from './makeExamples.ts';
import { answerOf, scratch } from './readingFile.ts';

const FOLDER = new URL('../../../docs/examples/', import.meta.url);
const path = (name: string) => new URL(name, FOLDER).pathname;
const json = (name: string) => JSON.parse(readFileSync(path(name), 'utf8'));
const manifest = json('manifest.json') as { files: { file: string; sha256: string }[] };

describe('the files of docs/examples', () => {
  test('are all listed in the manifest with their SHA-256', () => {
    const listed = manifest.files.map(({ file }) => file);
    expect([...listed, 'manifest.json'].toSorted()).toEqual(readdirSync(FOLDER).toSorted());
    for (const { file, sha256 } of manifest.files)
      expect(
        createHash('sha256')
          .update(readFileSync(path(file)))
          .digest('hex'),
      ).toBe(sha256);
  });

  test('are what their generator makes', () => {
    expect(json('control-records.json')).toEqual(controlRecords());
    expect(json('bed-cells.json')).toEqual(bedCells());
    expect(json('hemp-banner-rust.strip.json')).toEqual(stripFileOf(rustScene()));
    expect(json('hemp-banner-rust.marks.json')).toEqual(JSON.parse(JSON.stringify(marksOf(rustScene()))));
  });
});

/** From photo to answer across strips, held against the renderer's truth, which shares no code with the reading. */
describe('the commands on photos of known truth', async () => {
  const file = scratch();
  const demo = new URL('../../../fixtures/demo/hemp-banner-blue', import.meta.url).pathname;
  const readingOf = async (name: string, place: string) =>
    file(
      name,
      await answerOf(
        'read',
        `${place}.jpg`,
        '--strip',
        `${place}.strip.json`,
        '--marks',
        `${place}.marks.json`,
      ),
    );
  const blue = await readingOf('blue.json', demo);
  const rust = await readingOf('rust.json', path('hemp-banner-rust'));

  test('compare holds the true difference of speed at half depth, about 0.83 stop, in its interval', async () => {
    const halfOf = (truth: typeof hempBlueTruth) => truth.exposureForDepth(50) as number;
    const stops = Math.log2(halfOf(hempBlueTruth) / halfOf(truthOf(rustScene().strip)));
    const { differences } = (await answerOf('compare', blue, rust)).pairs[0];
    const speed = differences.find((d: { figure: string }) => d.figure === 'secondsToDepth');
    expect(speed.verdict).toBe('different');
    expect(speed.difference.low).toBeLessThan(stops);
    expect(speed.difference.high).toBeGreaterThan(stops);
  });

  test('drift sees tubes that lose 0.012 stop a scrap as drifting, each shift within 0.15 stop of the true one', async () => {
    const { verdict, records, levelStops } = await answerOf(
      'drift',
      path('control-records.json'),
      '--curve',
      blue,
    );
    expect(verdict).toBe('drifting');
    expect(levelStops).toBeLessThan(-0.04);
    const mean = (values: number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
    const offs = records.map((r: { shiftStops: number }, i: number) => r.shiftStops - trueShift(i));
    // What all share comes from the curve's own error; against the baseline it falls out.
    for (const off of offs) expect(Math.abs(off - mean(offs))).toBeLessThan(0.15);
  });

  test('evenness finds the right edge of the bed within 4 % of its true 78 % of the left', async () => {
    const map = await answerOf('evenness', path('bed-cells.json'), '--curve', blue);
    expect(map.pattern).toMatchObject({ code: 'one-side-low', where: 'right side' });
    for (const row of map.relativeDose)
      expect(Math.abs(row[7] / row[0] - trueLight(7, 8))).toBeLessThan(0.04);
  });

  test('transfer restates by a scrap of the true law under light one stop weaker: shift -1 in its interval', async () => {
    const L = hempBlueTruth.lightnessAt(180 / 2).toFixed(1);
    const { shiftStops } = await answerOf('transfer', '--curve', blue, '--scrap', `3:00=${L}±0.5`);
    expect(shiftStops.low).toBeLessThan(-1);
    expect(shiftStops.high).toBeGreaterThan(-1);
  });
});
