// Made the book in tests/server/store/books/001-first, once: `npx tsx tests/helpers/makeFirstBook.ts FOLDER`. It must
// open in every later version, so it is not made again.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { keepContext } from '../../server/contracts/recordReadings.ts';
import { controlFields, noteFields, printFields } from '../../server/contracts/recordUse.ts';
import { performRead } from '../../server/perform.ts';
import { createBook } from '../../server/record/book.ts';
import { keepControl } from '../../server/record/controls.ts';
import { keepReading, readAgain } from '../../server/record/keepReading.ts';
import { keepPrint } from '../../server/record/prints.ts';
import { writeNote } from '../../server/record/rows.ts';
import { makeThing } from '../../server/record/things.ts';
import { backupStore } from '../../server/store/backup.ts';

const [target] = process.argv.slice(2);
const examples = join(import.meta.dirname, '../../docs/examples');
const json = (what: string) =>
  JSON.parse(readFileSync(join(examples, `hemp-banner-rust.${what}.json`), 'utf8'));

let clock = Date.parse('2026-06-01T08:00:00Z');
const book = createBook({
  folder: `${target}-made`,
  analyst: { read: performRead },
  now: () => {
    clock += 60_000;
    return new Date(clock);
  },
});
const desk = await book.desk();
const batch = await makeThing(desk, 'batches', {
  name: 'May mix',
  dyeId: null,
  mixedAt: '2026-05-29T12:00:00.000Z',
  remark: 'cold water',
});
const card = await makeThing(desk, 'cards', { name: 'Old card', card: json('strip').card, remark: '' });
const plan = await makeThing(desk, 'plans', {
  name: 'Wide',
  dyeId: null,
  clothId: null,
  lightId: null,
  seconds: [0, 30, 60, 120, 240, 480, 900],
  plan: { reason: 'Nothing known yet' },
  remark: '',
});
const kept = await keepReading(desk, {
  photo: new Uint8Array(readFileSync(join(examples, 'hemp-banner-rust.jpg'))),
  strip: json('strip'),
  marks: parseMarks(json('marks')),
  context: keepContext.parse({
    batchId: batch.id,
    cardId: card.id,
    planId: plan.id,
    lampHours: 120,
    remark: 'first of the season',
  }),
});
const again = await readAgain(desk, kept.line.id, {
  target: { kind: 'depth', percent: 60 },
  confirmed: false,
});
const { dyeId, clothId, lightId } = kept.line;
await keepControl(
  desk,
  controlFields.parse({
    againstId: again.line.id,
    scraps: [{ seconds: 60, L: 53, uL: 0.5 }],
    lampHours: 130,
  }),
);
await keepPrint(
  desk,
  printFields.parse({
    name: 'banner 1',
    dyeId,
    clothId,
    lightId,
    secondsUsed: 90,
    reachedL: 48.8,
    reachedUL: 0.6,
  }),
);
await writeNote(desk, noteFields.parse({ on: { kind: 'dye', id: dyeId }, text: 'Keeps two weeks.' }));
await backupStore(desk.store, target);
await book.close();
