import { readFileSync } from 'node:fs';
import { readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../../server/contracts/reading.ts';

/** A demo photo and what is read from it with the marks of its file. */
export const demoReading = async (
  name: string,
): Promise<{ readonly reading: Reading; readonly photo: Uint8Array }> => {
  const path = (ending: string) => new URL(`../../../fixtures/demo/${name}${ending}`, import.meta.url);
  const json = (ending: string) => JSON.parse(readFileSync(path(ending), 'utf8'));
  const photo = new Uint8Array(readFileSync(path('.jpg')));
  const reading = await readStrip(photo, parseStrip(json('.strip.json')), {
    marks: parseMarks(json('.marks.json')),
  });
  return { reading, photo };
};

/** The same reading under other names. */
export const renamed = (reading: Reading, dye: string, cloth = reading.strip.cloth): Reading => ({
  ...reading,
  strip: { ...reading.strip, dye, cloth },
});
