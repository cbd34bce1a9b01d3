import { pathToFileURL } from 'node:url';
import type { Found } from './finderMeasure.ts';
import { FINDER_CARDS, FINDER_SURROUNDS, type FinderScene } from './finderScene.ts';
import { finderSpeed } from './finderSpeed.ts';
import { finderTables } from './finderTables.ts';
import { runJobs } from './pool.ts';

interface FinderJob {
  readonly seed: number;
  readonly scene: FinderScene;
}

/** `each` photos on every surround, all cards in turn; a tenth as many more without the card, and without the strip. */
export const finderJobs = (firstSeed: number, each: number): FinderJob[] =>
  FINDER_SURROUNDS.flatMap((surround, s) =>
    Array.from({ length: Math.round(1.2 * each) }, (_, i) => {
      const extra = i - each;
      const card = FINDER_CARDS[(extra >= 0 ? extra >> 1 : i) % FINDER_CARDS.length];
      return {
        seed: firstSeed + 1000 * s + i,
        scene: {
          card,
          surround,
          widthPx: 1200,
          heightPx: 900,
          ...(extra >= 0 && { leftOut: extra % 2 === 0 ? ('card' as const) : ('cloth' as const) }),
        },
      };
    }),
  );

/** Prints how well card and strip are found in rendered photos. */
export const benchFinder = async (
  print: (text: string) => void,
  firstSeed: number,
  each: number,
): Promise<void> => {
  print(
    `\nFinding card and strip: rendered photos of 1200 × 900 px lying any way round, ${each} on each surround, seeds from ${firstSeed}`,
  );
  const { measured, failures } = await runJobs<FinderJob, Found>('finderJob.ts', finderJobs(firstSeed, each));
  for (const line of finderTables(measured)) print(line);
  if (failures.length > 0) print(`Failed: ${failures.join('; ')}`);
  for (const line of await finderSpeed(firstSeed)) print(line);
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const words = process.argv.slice(2);
  const optionOf = (name: string, otherwise: number): number => {
    const at = words.indexOf(`--${name}`);
    return at >= 0 ? Number(words[at + 1]) : otherwise;
  };
  await benchFinder(
    (text) => process.stdout.write(`${text}\n`),
    optionOf('seed', 700_001),
    optionOf('each', 70),
  );
}
