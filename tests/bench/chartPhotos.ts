import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { mean } from 'simple-statistics';
import { lightnessFromY } from '../../analysis/colour/lightness.ts';
import { level } from '../../analysis/level/level.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { Photo } from '../../analysis/photo/photo.ts';
import { readSteps } from '../../analysis/steps/readSteps.ts';
import { cutTiles } from '../../analysis/tiles/cutTiles.ts';
import { tilePatch } from '../../analysis/tiles/tilePatch.ts';

/** Real photographs of a 24-patch chart, where the machine has them beside the project. */
export const chartFolder = (): string | null => {
  const folder = resolve(import.meta.dirname, '../../../shared/photos');
  return existsSync(join(folder, 'charts.json')) ? folder : null;
};

type Xy = [number, number];

/** Y of the neutral row, 19 to 24: [before November 2014, after]. Source: tests/reference/colorchecker24_neutral_row.csv. */
const NEUTRALS: readonly (readonly [before: number, after: number])[] = [
  [0.9131, 0.88069],
  [0.5894, 0.589971],
  [0.3632, 0.364865],
  [0.1915, 0.190623],
  [0.0883, 0.088172],
  [0.0311, 0.031513],
];

/** A quad around a patch centre, three fifths of the pitch wide, its sides along the chart's rows and columns. */
const quadAround = (centres: readonly Xy[], index: number): [Xy, Xy, Xy, Xy] => {
  const [x, y] = centres[index];
  const along = index % 6 < 5 ? index + 1 : index - 1;
  const across = index >= 6 ? index - 6 : index + 6;
  const half = (other: number): Xy => [0.3 * (centres[other][0] - x), 0.3 * (centres[other][1] - y)];
  const [ux, uy] = half(along);
  const [vx, vy] = half(across);
  return [
    [x - ux - vx, y - uy - vy],
    [x + ux - vx, y + uy - vy],
    [x + ux + vx, y + uy + vy],
    [x - ux + vx, y - uy + vy],
  ];
};

/** The quad moved out of the chart, onto the paper beside the neutral row. */
const beside = (centres: readonly Xy[], index: number): [Xy, Xy, Xy, Xy] => {
  const [dx, dy] = [0, 1].map((axis) => 1.25 * (centres[index][axis] - centres[index - 6][axis]));
  const [p, q, r, s] = quadAround(centres, index).map(([x, y]): Xy => [x + dx, y + dy]);
  return [p, q, r, s];
};

const middleGreen = (photo: Photo, quad: [Xy, Xy, Xy, Xy]): number =>
  mean(tilePatch(photo, quad, 'a chart patch').tiles.map((t) => t.rgb[1]));

export interface ChartResult {
  readonly photo: string;
  readonly edition: 'before 2014' | 'after 2014';
  /** Read minus published L*, neutral 8, 6.5 and 3.5. */
  readonly errors: readonly number[];
  readonly u: readonly number[];
  /** Slope of recorded against true light in ln–ln from one neutral to the next darker, green channel, as photographed. */
  readonly slopes: readonly number[];
  /** Largest over smallest recorded light of the paper beside the neutral row, as photographed. */
  readonly paperRatio: number;
  /** The same with neutral 5 as the only patch: read minus published L* of the five others, and the stated uncertainty. */
  readonly greyOnly: { readonly errors: readonly number[]; readonly u: readonly number[] };
}

/** White, grey (N 5) and black as card, the three other neutrals as steps. */
export const readCharts = async (folder: string): Promise<ChartResult[]> => {
  const charts = JSON.parse(readFileSync(join(folder, 'charts.json'), 'utf8'));
  const results: ChartResult[] = [];
  for (const name of Object.keys(charts)) {
    const centres: Xy[] = charts[name].patchCentres;
    const photo = await decodePhoto(readFileSync(join(folder, name)));
    const green = [18, 19, 20, 21, 22, 23].map((index) => middleGreen(photo, quadAround(centres, index)));
    const paper = [18, 19, 20, 21, 22, 23].map((index) => middleGreen(photo, beside(centres, index)));
    for (const [which, edition] of [
      [0, 'before 2014'],
      [1, 'after 2014'],
    ] as const) {
      const Y = NEUTRALS.map((n) => n[which]);
      const slopes = Y.slice(1).map((dark, i) => Math.log(green[i + 1] / green[i]) / Math.log(dark / Y[i]));
      const strip = parseStrip({
        card: {
          patches: [
            { name: 'white', Y: Y[0] },
            { name: 'grey', Y: Y[3] },
            { name: 'black', Y: Y[5] },
          ],
        },
        steps: [{ seconds: 1 }, { seconds: 2 }, { seconds: 3 }],
      });
      const marks = parseMarks({
        card: [
          { name: 'white', quad: quadAround(centres, 18) },
          { name: 'grey', quad: quadAround(centres, 21) },
          { name: 'black', quad: quadAround(centres, 23) },
        ],
        steps: [19, 20, 22].map((index, i) => ({ seconds: i + 1, quad: quadAround(centres, index) })),
      });
      const levelled = level(cutTiles(photo, marks), strip, photo.profile, 1);
      const { steps } = readSteps(levelled, photo.profile);
      const others = [18, 19, 20, 22, 23];
      const alone = readSteps(
        level(
          cutTiles(
            photo,
            parseMarks({
              card: [{ name: 'grey', quad: quadAround(centres, 21) }],
              steps: others.map((index, i) => ({ seconds: i + 1, quad: quadAround(centres, index) })),
            }),
          ),
          parseStrip({
            card: { patches: [{ name: 'grey', Y: Y[3] }] },
            steps: others.map((_, i) => ({ seconds: i + 1 })),
          }),
          photo.profile,
          1,
        ),
        photo.profile,
      ).steps;
      results.push({
        paperRatio: Math.max(...paper) / Math.min(...paper),
        greyOnly: {
          errors: others.map((index, i) => alone[i].L - lightnessFromY(Y[index - 18])),
          u: alone.map((s) => s.uL),
        },
        photo: name,
        edition,
        errors: [1, 2, 4].map((n, i) => steps[i].L - lightnessFromY(Y[n])),
        u: steps.map((s) => s.uL),
        slopes,
      });
    }
  }
  return results;
};
