/**
 * Makes the files that docs/commands.md works on beside the demo: a second dye on the banner hemp, a notebook of control
 * scraps and the cells of a sheet. Run: npx tsx tests/server/commands/makeExamples.ts
 * All of it follows from the renderer's own truth about the demo's hemp; no strip, lamp or bed stands behind it.
 */
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { DEMOS, demoScene } from '../../../fixtures/makeDemo.ts';
import { random } from '../../../fixtures/random.ts';
import { renderScene } from '../../../fixtures/render.ts';
import { sampleScene } from '../../../fixtures/sample.ts';
import type { SceneSpec } from '../../../fixtures/spec.ts';
import { truthOf } from '../../../fixtures/truth.ts';

const FOLDER = fileURLToPath(new URL('../../../docs/examples', import.meta.url));
const ORIGIN =
  'made by tests/server/commands/makeExamples.ts from the renderer of fixtures/; no strip behind it';

const hempBlue = demoScene(DEMOS[0]);
export const hempBlueTruth = truthOf(hempBlue.strip);

/** The same hemp and tubes with another dye: about a stop faster than the blue, and paler. */
export const rustScene = (): SceneSpec => {
  const scene = sampleScene(4603, {
    evenLight: true,
    widthPx: 1000,
    heightPx: 750,
    card: 'white-grey-black',
    surround: 'plain',
    dye: 'brown',
    cloth: 'hemp',
    pieces: 'contiguous',
    defects: false,
    anyTurn: false,
  });
  const seconds = [0, 30, 60, 120, 240, 480, 900];
  return {
    ...scene,
    strip: {
      ...scene.strip,
      dyeLabel: 'light-set rust',
      clothLabel: hempBlue.strip.clothLabel,
      lightLabel: hempBlue.strip.lightLabel,
      law: { kind: 'stretched', scaleSeconds: 150, power: 1.1 },
      peakKs: 7,
      seconds,
      stepDye: seconds.map(() => 1),
      longestFirst: false,
    },
    output: { ...scene.output, quality: 84 },
  };
};

/** Exposure of every control scrap, and how much the tubes lose per scrap after the first twelve. */
export const CONTROL_SECONDS = 105;
export const LOSS_STOPS = 0.012;
const STEADY = 12;
export const trueShift = (i: number): number => -LOSS_STOPS * Math.max(0, i - STEADY + 1);

/** A control scrap of the hemp a week, read with ±0.4 L*, under tubes that fade from the thirteenth week on. */
export const controlRecords = () => {
  const chance = random(4604);
  return {
    records: Array.from({ length: 26 }, (_, i) => ({
      date: new Date(Date.UTC(2025, 0, 6 + 7 * i)).toISOString().slice(0, 10),
      setup: 'tubes of January',
      lampHours: 6 * i,
      scraps: [
        {
          seconds: CONTROL_SECONDS,
          L: round(hempBlueTruth.lightnessAt(CONTROL_SECONDS * 2 ** trueShift(i)) + 0.4 * chance.normal(), 1),
          uL: 0.4,
        },
      ],
    })),
  };
};

/** Light over the bed as a share of its middle: it falls off to the right, to 78 % at the edge. */
export const trueLight = (column: number, columns: number): number =>
  1 - 0.22 * (column / (columns - 1)) ** 2;

/** A sheet of the hemp, exposed for 105 s, in 6 rows of 8 cells. */
export const bedCells = () => {
  const chance = random(4605);
  const columns = 8;
  return {
    uL: 0.4,
    cells: Array.from({ length: 6 }, () =>
      Array.from({ length: columns }, (_, column) =>
        round(hempBlueTruth.lightnessAt(105 * trueLight(column, columns)) + 0.4 * chance.normal(), 1),
      ),
    ),
  };
};

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

async function makeExamples(): Promise<void> {
  mkdirSync(FOLDER, { recursive: true });
  const files: { file: string; sha256: string; about: string }[] = [];
  const keep = (file: string, bytes: string | Buffer, about: string) => {
    writeFileSync(`${FOLDER}/${file}`, bytes);
    files.push({ file, sha256: createHash('sha256').update(bytes).digest('hex'), about });
  };
  const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;
  const rust = await renderScene(rustScene());
  keep('hemp-banner-rust.jpg', rust.bytes, 'a strip of the banner hemp with the light-set rust');
  keep('hemp-banner-rust.strip.json', json(rust.strip), 'what was exposed');
  keep('hemp-banner-rust.marks.json', json(rust.marks), 'where card and steps are');
  keep('control-records.json', json(controlRecords()), 'a control scrap of the blue hemp a week');
  keep(
    'bed-cells.json',
    `${JSON.stringify(bedCells()).replaceAll('],[', '],\n[')}\n`,
    'a sheet of the blue hemp in 6 × 8 cells',
  );
  writeFileSync(
    `${FOLDER}/manifest.json`,
    json({
      origin: ORIGIN,
      licence: 'MIT, as the project',
      truth: {
        rust: {
          baseL: round(rust.truth.baseL, 3),
          deepestL: round(rust.truth.deepestL, 3),
          secondsToHalfDepth: round(rust.truth.exposureForDepth(50) ?? 0, 2),
        },
        control: { lossStopsPerScrap: LOSS_STOPS, steadyScraps: STEADY },
        bed: { rightEdgeShare: trueLight(7, 8) },
      },
      files,
    }),
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await makeExamples();
