import { performance } from 'node:perf_hooks';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { findMarks } from '../../analysis/locate/findMarks.ts';
import { findOnSheet } from '../../analysis/locate/sheetMarks.ts';
import { decodeToMeasure } from '../../analysis/photo/decode.ts';
import { renderScene } from '../../fixtures/render.ts';
import { finderScene } from './finderScene.ts';
import { percentile } from './tables.ts';

const RUNS = 5;

/**
 * How long does finding take beyond decoding as for a reading, 12 MP, on a plain and on a patterned table, the look for a sheet's
 * markers included? Lines of text.
 */
export const finderSpeed = async (seed: number): Promise<string[]> => {
  const lines: string[] = [];
  for (const [surround, card] of [
    ['plain', 'white-grey-black'],
    ['patterned', 'chart-24'],
  ] as const) {
    const scene = await renderScene(finderScene(seed, { surround, card, widthPx: 4000, heightPx: 3000 }));
    const photo = await decodeToMeasure(scene.bytes);
    const strip = parseStrip(scene.strip);
    const times: number[] = [];
    for (let run = 0; run <= RUNS; run++) {
      const start = performance.now();
      await findOnSheet(photo, strip);
      findMarks(photo, strip);
      if (run > 0) times.push(performance.now() - start);
    }
    lines.push(
      `finding at 12 MP beyond decoding, ${surround}, ${card}: median ${percentile(times, 50).toFixed(0)} ms`,
    );
  }
  return lines;
};
