import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseStoredReading } from '../../server/commands/storedReading.ts';
import { performAsk } from '../../server/perform.ts';
import { DEMO_FOLDER, demoFiles } from '../helpers/serverUnderTest.ts';
import { knownReading } from '../server/commands/readingFile.ts';
import { drawn, type Family } from './family.ts';
import { madeWrong, wrongs, wrongValue } from './wrongJson.ts';

const hemp = demoFiles('hemp-banner-blue');
const STRIP: unknown = JSON.parse(hemp.strip);
const MARKS = JSON.parse(hemp.marks);

const descriptions: Family = {
  name: 'descriptions and marks as JSON',
  count: 3000,
  open: async () => (i) => {
    const json =
      i % 10 === 0
        ? drawn(wrongValue, 600_000 + i)
        : madeWrong(i % 2 === 0 ? STRIP : MARKS, drawn(wrongs, 600_000 + i));
    if (i % 2 === 0) parseStrip(json);
    else parseMarks(json);
    return 'taken';
  },
};

/** The demo photo at a quarter of its size: the same reading, a sixteenth of the work. */
const QUARTER = 4;
const shrunk = (marks: typeof MARKS): unknown =>
  JSON.parse(
    JSON.stringify(marks, (key, value) =>
      key === 'quad' ? value.map((p: number[]) => p.map((x) => x / QUARTER)) : value,
    ),
  );

const wrongMarksRead: Family = {
  name: 'wrong descriptions and marks, read with a photo',
  count: 500,
  open: async () => {
    const photo = await sharp(hemp.photo).resize(250).jpeg({ quality: 95 }).toBuffer();
    const marks = shrunk(MARKS);
    return async (i) => {
      const strip = parseStrip(i % 2 === 0 ? madeWrong(STRIP, drawn(wrongs, 700_000 + i)) : STRIP);
      const placed = parseMarks(i % 2 === 1 ? madeWrong(marks, drawn(wrongs, 700_000 + i)) : marks);
      return `read, ${(await readStrip(photo, strip, { marks: placed })).curve.kind}`;
    };
  },
};

const QUESTIONS = ['plan', 'comparison', 'transfer', 'drift', 'evenness'] as const;

const bedCells: unknown = JSON.parse(
  readFileSync(join(DEMO_FOLDER, '../../docs/examples/bed-cells.json'), 'utf8'),
);
const controlRecords: unknown = JSON.parse(
  readFileSync(join(DEMO_FOLDER, '../../docs/examples/control-records.json'), 'utf8'),
);

const questions: Family = {
  name: 'questions about kept readings',
  count: 1200,
  open: async () => {
    const kept: unknown = JSON.parse(JSON.stringify(knownReading()));
    const sound: Readonly<Record<(typeof QUESTIONS)[number], unknown>> = {
      plan: { start: { kind: 'around', guessSeconds: 240 }, light: 'tubes' },
      comparison: { readings: [kept, kept] },
      transfer: { curve: kept, controls: [kept] },
      drift: { records: controlRecords },
      evenness: { curve: kept, cells: bedCells },
    };
    return async (i) => {
      const name = QUESTIONS[i % QUESTIONS.length];
      await performAsk({ kind: 'ask', name, json: madeWrong(sound[name], drawn(wrongs, 800_000 + i)) });
      return 'answered';
    };
  },
};

const keptReadings: Family = {
  name: 'kept readings as JSON',
  count: 800,
  open: async () => {
    const kept: unknown = JSON.parse(JSON.stringify(knownReading()));
    return (i) => {
      parseStoredReading('kept.json', madeWrong(kept, drawn(wrongs, 900_000 + i)));
      return 'taken';
    };
  },
};

export const jsonFamilies: readonly Family[] = [descriptions, wrongMarksRead, questions, keptReadings];
