import { benchAccuracy } from './accuracyBench.ts';
import { measureBatch } from './batchBench.ts';
import { benchFinder } from './finderBench.ts';
import { measureLoad } from './loadBench.ts';
import { measurePage } from './pageBench.ts';
import { measureRecord } from './recordBench.ts';
import { benchSheets } from './sheetBench.ts';
import { measureSpeed } from './speed.ts';
import { row } from './tables.ts';

// Every figure in README and docs comes from here. `npm run bench`; `-- --each 60` for more scenes, `-- --only speed` for
// one part.
const words = process.argv.slice(2);
const optionOf = (name: string): string | undefined => {
  const at = words.indexOf(`--${name}`);
  return at >= 0 ? words[at + 1] : undefined;
};
/** Scenes per card and surround, from seeds that nothing was tuned on. */
const each = Number(optionOf('each') ?? 25);
const firstSeed = Number(optionOf('seed') ?? 90_001);

const print = (text = ''): void => {
  process.stdout.write(`${text}\n`);
};

const printAll = async (lines: AsyncIterable<string[]> | Iterable<string[]>): Promise<void> => {
  for await (const line of lines) print(row(line));
};

const PARTS: Readonly<Record<string, () => Promise<void>>> = {
  accuracy: () => benchAccuracy(print, firstSeed, each),
  finder: () => benchFinder(print, firstSeed + 610_000, 3 * each),
  sheets: () => benchSheets(print, firstSeed + 710_000, 8 * each),
  speed: async () => {
    print('\nSpeed, median of the runs, ratio to a bare decode of the same file by sharp in the same run');
    await printAll(measureSpeed());
  },
  server: async () => {
    print('\nThe server under load: 50 phones send a photo at once, to be read and then into the inbox');
    await printAll(await measureLoad(50));
  },
  batch: async () => {
    print('\nSeveral photos in one command');
    await printAll(await measureBatch());
  },
  page: async () => {
    print('\nThe page in Chromium at 390 px, median of the runs');
    await printAll(measurePage());
  },
  record: async () => {
    print('\nThe record: a book of 10,000 readings, median, 95th percentile and longest of 200');
    const { rows, size } = await measureRecord();
    await printAll(rows);
    for (const sentence of size) print(sentence);
  },
};

const only = optionOf('only');
const wanted = only === undefined ? Object.keys(PARTS) : only.split(',');
const unknown = wanted.filter((name) => !Object.hasOwn(PARTS, name));
if (unknown.length > 0)
  throw new Error(`--only takes ${Object.keys(PARTS).join(', ')}; not ${unknown.join(', ')}.`);

const started = Date.now();
for (const name of wanted) await PARTS[name]();
print(`\nBench took ${((Date.now() - started) / 1000).toFixed(0)} s.`);
