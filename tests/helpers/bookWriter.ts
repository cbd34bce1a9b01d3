// A program that writes in a book as fast as it can and says on stdout what was acknowledged, a line each. Killed at any
// moment, everything that it said must be found in the book.
import { readFileSync, writeSync } from 'node:fs';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Reading } from '../../analysis/reading.ts';
import { keepContext } from '../../server/contracts/recordReadings.ts';
import { printFields } from '../../server/contracts/recordUse.ts';
import { createBook } from '../../server/record/book.ts';
import { keepReading } from '../../server/record/keepReading.ts';
import { keepPrint } from '../../server/record/prints.ts';
import { setPutAway, writeNote } from '../../server/record/rows.ts';

const [folder, readingPath, seedText, countText, databaseUrl] = process.argv.slice(2);
const fitted = JSON.parse(readFileSync(readingPath, 'utf8')) as Reading;
const short: Reading = {
  ...fitted,
  curve: { kind: 'too-few-steps', message: 'One exposed step only.', points: [] },
};
const random = xoroshiro128plus(Number(seedText));
const upTo = (most: number): number => uniformInt(random, 0, most);
const say = (line: string): void => {
  writeSync(1, `${line}\n`);
};

const book = createBook({
  folder,
  databaseUrl,
  // Drawing 400 curves takes longer than writing them: most strips here are too short for a curve.
  analyst: { read: async () => (upTo(19) === 0 ? fitted : short) },
});
const desk = await book.desk();
const strip = (n: number) => ({
  dye: `dye ${n % 5}`,
  cloth: `cloth ${n % 3}`,
  light: `light ${n % 2}`,
  card: 'grey-18' as const,
  steps: [{ seconds: 0 }, { seconds: 60 }],
});
say('open');
let last: { id: string; dyeId: string; clothId: string; lightId: string } | null = null;
for (let i = 0; i < Number(countText); i++) {
  const kind = upTo(9);
  if (kind < 6 || last === null) {
    const photo = new Uint8Array(1000 + upTo(200_000)).map(() => upTo(255));
    const { line } = await keepReading(desk, {
      photo,
      strip: strip(upTo(29)),
      context: keepContext.parse({ remark: `writer ${seedText}, ${i}`, lampHours: i }),
    });
    last = line;
    say(`reading ${line.id} ${line.photo}`);
  } else if (kind < 8) {
    const { dyeId, clothId, lightId } = last;
    const print = await keepPrint(
      desk,
      printFields.parse({ dyeId, clothId, lightId, secondsUsed: 1 + upTo(600), reachedL: 50 }),
    );
    say(`print ${print.id}`);
  } else if (kind === 8) {
    const note = await writeNote(desk, { on: { kind: 'reading', id: last.id }, text: `note ${i}` });
    say(`note ${note.id}`);
  } else {
    await setPutAway(desk, { kind: 'reading', id: last.id }, true);
    say(`away ${last.id}`);
  }
}
await book.close();
say('done');
