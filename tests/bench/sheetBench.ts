import { pathToFileURL } from 'node:url';
import { hasPdftoppm } from '../helpers/printedSheet.ts';
import { runJobs } from './pool.ts';
import type { measureSheet, SheetFound } from './sheetMeasure.ts';
import { sheetSpeed } from './sheetSpeed.ts';
import { percentile, rms, row, share } from './tables.ts';

interface SheetJob {
  readonly seed: number;
  readonly options: Parameters<typeof measureSheet>[1];
}

/** Every tenth photo larger than the others. */
const jobsOf = (firstSeed: number, count: number): SheetJob[] =>
  Array.from({ length: count }, (_, i) => ({
    seed: firstSeed + i,
    options: i % 10 === 9 ? { widthPx: 2400, heightPx: 1800 } : { widthPx: 1600, heightPx: 1200 },
  }));

const tables = (measured: readonly SheetFound[], asked: number): string[] => {
  const lines = [
    row([
      'photos',
      'right',
      'without asking',
      'wrong but sure',
      'code read',
      'least overlap, 1st percentile',
    ]),
  ];
  const groups: readonly (readonly [string, readonly SheetFound[]])[] = [
    ['all', measured],
    ['one marker covered', measured.filter((m) => m.covered)],
    ['tilted 25 to 35°', measured.filter((m) => m.tiltDegrees >= 25)],
    ['one cloth', measured.filter((m) => m.pieces === 'contiguous')],
    ['scraps', measured.filter((m) => m.pieces === 'scraps')],
  ];
  for (const [name, group] of groups)
    if (group.length > 0)
      lines.push(
        row([
          `${name} (${group.length})`,
          share(group.map((m) => m.right)),
          share(group.map((m) => m.outcome === 'found')),
          share(group.map((m) => m.outcome === 'found' && !m.right)),
          share(group.map((m) => m.codeRead)),
          percentile(
            group.map((m) => m.leastOverlap),
            1,
          ).toFixed(2),
        ]),
      );
  const read = measured.filter((m) => m.errors && m.errorsTrue);
  for (const [name, group] of [
    ['all cards', read],
    ['cards of three patches or more', read.filter((m) => m.card !== 'grey-18')],
    ['the same, found without asking', read.filter((m) => m.card !== 'grey-18' && m.outcome === 'found')],
  ] as const) {
    const found = group.map((m) => m.errors ?? []);
    const given = group.map((m) => m.errorsTrue ?? []);
    const middle = (errors: readonly (readonly number[])[]): string =>
      percentile(errors.map(rms), 50).toFixed(2);
    lines.push(
      `L* error, ${name}, root mean square over all steps: ${rms(found.flat()).toFixed(2)} with marks as found, ${rms(given.flat()).toFixed(2)} with true marks and the same surround: ${(rms(found.flat()) / rms(given.flat())).toFixed(2)} times; median per photo ${middle(found)} and ${middle(given)}.`,
    );
  }
  lines.push(
    `Right: every middle inside the true area and 60 % of that covered. Stricter, 60 % of what both cover together: ${share(measured.map((m) => m.same))} right, ${share(measured.map((m) => m.outcome === 'found' && !m.same))} not so but sure.`,
  );
  const wrong = measured.filter((m) => !m.right);
  if (wrong.length > 0)
    lines.push(
      `Not right: ${wrong.map((m) => `${m.seed} (${m.card}, ${m.pieces}, ${m.outcome})`).join('; ')}`,
    );
  if (measured.length < asked) lines.push(`${asked - measured.length} photos were not measured.`);
  return lines;
};

/** Prints how well card and cloth are found on photos of the real sheet, printed by poppler's pdftoppm. */
export const benchSheets = async (
  print: (text: string) => void,
  firstSeed: number,
  count: number,
): Promise<void> => {
  print(
    `\nThe measuring sheet: ${count} rendered photos of the printed PDF, seeds from ${firstSeed}, tilted up to 35°, half of them curled, a fifth with a marker covered`,
  );
  if (!(await hasPdftoppm())) {
    print('Left out: pdftoppm (poppler-utils) is not on this machine.');
    return;
  }
  const { measured, failures } = await runJobs<SheetJob, SheetFound>('sheetJob.ts', jobsOf(firstSeed, count));
  for (const line of tables(measured, count)) print(line);
  if (failures.length > 0) print(`Failed: ${failures.join('; ')}`);
  for (const line of await sheetSpeed(firstSeed + 500)) print(line);
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const words = process.argv.slice(2);
  const optionOf = (name: string, otherwise: number): number => {
    const at = words.indexOf(`--${name}`);
    return at >= 0 ? Number(words[at + 1]) : otherwise;
  };
  await benchSheets(
    (text) => process.stdout.write(`${text}\n`),
    optionOf('seed', 800_001),
    optionOf('photos', 210),
  );
}
