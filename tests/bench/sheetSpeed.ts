import { performance } from 'node:perf_hooks';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { findOnSheet } from '../../analysis/locate/sheetMarks.ts';
import { decodeToMeasure } from '../../analysis/photo/decode.ts';
import { samplePaperScene } from '../../fixtures/paper.ts';
import { photographPaper } from '../../fixtures/paperPhoto.ts';
import { pageOf } from './sheetMeasure.ts';
import { percentile, row } from './tables.ts';

const RUNS = 7;

/** How long the sheet takes to be found on 12 MP photos, decoded as for a reading, decoding left out; the first run, which loads OpenCV, apart. */
export const sheetSpeed = async (seed: number, photos = 3): Promise<string[]> => {
  const lines: string[] = [];
  for (let i = 0; i < photos; i++) {
    const page = await pageOf('a4', 300);
    const scene = await photographPaper(
      samplePaperScene(seed + i, page, { widthPx: 4000, heightPx: 3000 }),
      page,
    );
    const photo = await decodeToMeasure(scene.bytes);
    const strip = parseStrip(scene.strip);
    const times: number[] = [];
    for (let run = 0; run <= RUNS; run++) {
      const start = performance.now();
      await findOnSheet(photo, strip);
      times.push(performance.now() - start);
    }
    const [first, ...others] = times;
    lines.push(
      row([
        'sheet found',
        `12 MP, ${strip.steps.length} steps`,
        `${percentile(others, 50).toFixed(0)} ms`,
        `first ${first.toFixed(0)} ms`,
      ]),
    );
  }
  return lines;
};
