import { chartFolder, readCharts } from './chartPhotos.ts';
import { exposureLines, nextStripLines } from './exposureTables.ts';
import type { Measured } from './measure.ts';
import { followNextStrip, type NextResult } from './nextStrip.ts';
import { type PairResult, readPair, readTurned, type TurnedResult } from './pairs.ts';
import { type Job, measureAll } from './pool.ts';
import { percentile, rms, row, share } from './tables.ts';

const CARDS = ['white-grey-black', 'grey-scale', 'chart-24', 'grey-18'] as const;
const SURROUNDS = ['plain', 'patterned', 'dark'] as const;

const stepRms = (pick: (m: Measured) => readonly number[]) => (m: Measured) => rms(pick(m));
const covered = (group: readonly Measured[]) =>
  share(group.flatMap((m) => m.errors.map((e, i) => Math.abs(e) <= 1.645 * m.u[i])));
const both = (values: readonly number[]) =>
  `${percentile(values, 50).toFixed(2)} / ${percentile(values, 90).toFixed(2)}`;

const EXPOSURE_HEADINGS = [
  'card',
  'strips',
  'Tonestep',
  'line in log E',
  'nearest true step',
  'within the 90 %',
  'its median width',
];

/** How good are L* and exposure? Rendered photos with their true marks, pairs of photos, and real photos of a chart. */
export const benchAccuracy = async (
  print: (text?: string) => void,
  firstSeed: number,
  each: number,
): Promise<void> => {
  const jobs: Job[] = CARDS.flatMap((card, c) =>
    SURROUNDS.flatMap((surround, s) =>
      Array.from({ length: each }, (_, i) => ({
        // A grey-18 scene is drawn as brightly as the others only with its own seeds.
        seed: firstSeed + 1000 * (3 * c + s) + i,
        options: { card, surround, widthPx: 1600, heightPx: 1200 },
      })),
    ),
  );

  const printExposures = (name: string, group: readonly Measured[]): void => {
    const results = group.flatMap((m) => (m.exposure && m.exposure.advised !== null ? [m.exposure] : []));
    if (results.length === 0) return;
    const size = (values: readonly (number | null)[]) =>
      both(values.flatMap((v) => (v === null ? [] : [Math.abs(v)])));
    print(
      row([
        name,
        String(results.length),
        size(results.map((r) => r.advised)),
        size(results.map((r) => r.lineInterpolated)),
        size(results.map((r) => r.nearestStep)),
        share(results.flatMap((r) => (r.inInterval === null ? [] : [r.inInterval]))),
        percentile(
          results.flatMap((r) => (r.widthStops === null ? [] : [r.widthStops])),
          50,
        ).toFixed(2),
      ]),
    );
  };
  print(
    `Rendered photos, true marks, seeds from ${firstSeed}, ${each} scenes for each card and surround, 1600 × 1200 px.`,
  );
  const { measured, failures } = await measureAll(jobs);

  print('\nL* error per photo (root mean square over its steps), median / 90th percentile');
  print(
    row([
      'card',
      'surround',
      'Tonestep',
      'several patches, line',
      'grey patch scaled',
      'eyedropper',
      'within 1.645 u',
    ]),
  );
  const several = measured.filter((m) => m.card !== 'grey-18');
  const groups: readonly (readonly [card: string, surround: string, group: readonly Measured[]])[] = [
    ...CARDS.flatMap((card) =>
      SURROUNDS.map(
        (surround) =>
          [card, surround, measured.filter((m) => m.card === card && m.surround === surround)] as const,
      ),
    ),
    ...CARDS.map((card) => [card, 'all', measured.filter((m) => m.card === card)] as const),
    ...SURROUNDS.map(
      (surround) =>
        ['three patches or more', surround, several.filter((m) => m.surround === surround)] as const,
    ),
    ['three patches or more', 'all', several],
    ['all', 'all', measured],
  ];
  for (const [card, surround, group] of groups)
    if (group.length > 0)
      print(
        row([
          card,
          surround,
          both(group.map(stepRms((m) => m.errors))),
          both(group.map(stepRms((m) => m.lineScaled))),
          both(group.map(stepRms((m) => m.greyScaled))),
          both(group.map(stepRms((m) => m.eyedropper))),
          covered(group),
        ]),
      );

  print('\nExposure for a target inside the strip: |error| in stops, median / 90th percentile');
  print(row(EXPOSURE_HEADINGS));
  for (const card of [...CARDS, null])
    printExposures(
      card ?? 'all',
      measured.filter((m) => card === null || m.card === card),
    );
  const calm = await measureAll(
    SURROUNDS.flatMap((surround, s) =>
      Array.from({ length: each }, (_, i) => ({
        seed: firstSeed + 80_000 + 1000 * s + i,
        options: { card: CARDS[0], surround, widthPx: 1600, heightPx: 1200, evenLight: true },
      })),
    ),
  );
  failures.push(...calm.failures);
  printExposures('calm', calm.measured);
  print(
    'Calm: white-grey-black again, under smooth light and by cameras with one tone for the whole picture.',
  );
  const asked = measured.flatMap((m) => (m.exposure ? [m.exposure] : []));
  print(
    `Targets inside the strip asked for: ${asked.length}; answered with a time: ${asked.filter((r) => r.advised !== null).length}.`,
  );
  if (failures.length > 0) print(`Failed: ${failures.join('; ')}`);
  for (const line of exposureLines(measured)) print(line);

  print('\nFollowing the advised next strip once: |error| in stops and width of the interval, medians');
  for (const [name, wanted] of [
    ['75 % depth', 75],
    ['full depth', 'full'],
  ] as const) {
    const followed: NextResult[] = [];
    for (let seed = firstSeed + 50_000; seed < firstSeed + 50_000 + 2 * each; seed++) {
      const result = await followNextStrip(seed, wanted);
      if (result) followed.push(result);
    }
    for (const line of nextStripLines(name, followed)) print(line);
  }

  print(
    '\nTwo photos of one strip, other light, camera, pose and table: difference of the two readings, over all steps',
  );
  const pairs: PairResult[] = [];
  for (let i = 0; i < Math.max(40, each); i++) pairs.push(await readPair(firstSeed + 60_000 + i, i));
  for (const surround of [...SURROUNDS, 'all']) {
    const group = pairs.filter((p) => surround === 'all' || p.surround === surround);
    print(
      row([
        'white-grey-black',
        surround,
        `${group.length} pairs`,
        `ΔE00 ${both(group.flatMap((p) => p.deltaE))}`,
        `ΔL* ${both(group.flatMap((p) => p.deltaL))}`,
      ]),
    );
  }

  print(
    '\nA strip on a table that tells nothing of the light, photographed again turned end for end: RMSE, median / 90th percentile',
  );
  const turned: TurnedResult[] = [];
  for (let i = 0; i < Math.ceil(each / 2); i++) turned.push(await readTurned(firstSeed + 70_000 + i));
  print(
    row([
      'first photo alone',
      '',
      both(turned.map((t) => t.alone)),
      `u ${percentile(
        turned.map((t) => t.uAlone),
        50,
      ).toFixed(2)}`,
    ]),
  );
  print(
    row([
      'both together',
      '',
      both(turned.map((t) => t.together)),
      `u ${percentile(
        turned.map((t) => t.uTogether),
        50,
      ).toFixed(2)}`,
      `within 1.645 u: ${share(turned.flatMap((t) => t.within))}`,
    ]),
  );

  const folder = chartFolder();
  if (folder) {
    print(
      '\nReal photos of a 24-patch chart: white, neutral 5 and black as card; L* error of neutral 8, 6.5 and 3.5',
    );
    const charts = await readCharts(folder);
    for (const c of charts)
      print(row([c.photo, c.edition, ...c.errors.map((e, i) => `${e.toFixed(2)} (u ${c.u[i].toFixed(2)})`)]));
    const of = (edition: string) => charts.filter((c) => c.edition === edition);
    for (const edition of ['before 2014', 'after 2014'] as const)
      print(
        row([
          'all five',
          edition,
          `RMSE ${rms(of(edition).flatMap((c) => c.errors)).toFixed(2)}`,
          `within 1.645 u: ${share(of(edition).flatMap((c) => c.errors.map((e, i) => Math.abs(e) <= 1.645 * c.u[i])))}`,
        ]),
      );
    print(
      'Slope of recorded against true light from one neutral to the next darker, lightest first (after 2014)',
    );
    for (const c of of('after 2014')) print(row([c.photo, '', c.slopes.map((v) => v.toFixed(2)).join(' ')]));
    print('The paper beside the neutral row: its lightest over its darkest place, as photographed');
    for (const c of of('after 2014')) print(row([c.photo, '', c.paperRatio.toFixed(2)]));
    const alone = of('after 2014').map((c) => c.greyOnly);
    print(
      row([
        'neutral 5 alone as card',
        'after 2014',
        `RMSE ${rms(alone.flatMap((g) => g.errors)).toFixed(2)}`,
        `rms of error/u ${rms(alone.flatMap((g) => g.errors.map((e, i) => e / g.u[i]))).toFixed(2)}`,
      ]),
    );
  } else print('\nReal chart photos: not beside the project, left out.');
};
