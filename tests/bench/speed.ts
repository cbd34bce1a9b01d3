import { performance } from 'node:perf_hooks';
import sharp from 'sharp';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { renderScene } from '../../fixtures/render.ts';
import { sampleScene } from '../../fixtures/sample.ts';
import { percentile } from './tables.ts';

const RUNS = 7;

const timed = async (work: () => Promise<unknown>): Promise<number> => {
  const start = performance.now();
  await work();
  return performance.now() - start;
};

/** Decoding alone against whole readings, marks given and marks found, on one 12 MP photo. */
export const measureSpeed = async (): Promise<string[][]> => {
  const scene = await renderScene(
    sampleScene(90_777, {
      card: 'white-grey-black',
      surround: 'plain',
      steps: 7,
      base: true,
      widthPx: 4000,
      heightPx: 3000,
    }),
  );
  const strip = parseStrip(scene.strip);
  const marks = parseMarks(scene.marks);
  const works: readonly (readonly [string, () => Promise<unknown>])[] = [
    ['bare decode', () => sharp(scene.bytes).raw().toBuffer()],
    ['reading, marks given', () => readStrip(scene.bytes, strip, { marks })],
    ['reading, marks found', () => readStrip(scene.bytes, strip)],
  ];
  const times = works.map(() => [] as number[]);
  for (let run = 0; run <= RUNS; run++)
    for (const [i, [, work]] of works.entries()) {
      const ms = await timed(work);
      if (run > 0) times[i].push(ms);
    }
  const bare = percentile(times[0], 50);
  return works.map(([name], i) => {
    const ms = percentile(times[i], 50);
    return [name, '12 MP', `${ms.toFixed(0)} ms`, `${(ms / bare).toFixed(2)} ×`];
  });
};
