import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { readMany } from '../../server/commands/readMany.ts';
import { workersFor } from '../../server/workerAnalyst.ts';
import { renderTwelveMegapixels, withComment } from './benchPhoto.ts';
import { built } from './builtServer.ts';

const PHOTOS = 8;

/** `tonestep read` with several photos: how many a minute, one at a time and with all workers? A row each. */
export const measureBatch = async (): Promise<string[][]> => {
  const script = pathToFileURL(built('server', 'worker.js'));
  const scene = await renderTwelveMegapixels();
  const strip = parseStrip(scene.strip);
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-batch-'));
  try {
    const photos = Array.from({ length: PHOTOS }, (_, i) => join(folder, `strip-${i + 1}.jpg`));
    photos.forEach((path, i) => {
      writeFileSync(path, withComment(scene.bytes, `strip ${i}`));
    });
    const perMinute = async (lanes: number): Promise<number> => {
      const began = performance.now();
      const { json } = await readMany(photos, { strip, lanes, script });
      const read = (json as readonly object[]).filter((one) => 'reading' in one).length;
      if (read !== PHOTOS) throw new Error(`${PHOTOS - read} of ${PHOTOS} photos were not read`);
      return (60_000 * PHOTOS) / (performance.now() - began);
    };
    const all = workersFor(availableParallelism(), totalmem());
    // In turns, and the better of two: what else the machine does falls on both alike.
    let one = 0;
    let many = 0;
    for (let round = 0; round < 2; round++) {
      one = Math.max(one, await perMinute(1));
      many = Math.max(many, await perMinute(all));
    }
    return [
      ['one worker', `${one.toFixed(0)} photos a minute`, '12 MP each, starting the worker included'],
      [
        `all ${all} workers`,
        `${many.toFixed(0)} photos a minute`,
        `${(many / one).toFixed(2)} times as many`,
        `${availableParallelism()} cores`,
      ],
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
