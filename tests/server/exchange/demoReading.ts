import { readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import type { Reading } from '../../../server/contracts/reading.ts';
import { demoFiles } from '../../helpers/serverUnderTest.ts';

/** A demo photo and what is read from it with the marks of its file. */
export const demoReading = async (
  name: string,
): Promise<{ readonly reading: Reading; readonly photo: Uint8Array }> => {
  const { photo, strip, marks } = demoFiles(name);
  const reading = await readStrip(photo, parseStrip(JSON.parse(strip)), {
    marks: parseMarks(JSON.parse(marks)),
  });
  return { reading, photo };
};

/** The same reading under other names. */
export const renamed = (reading: Reading, dye: string, cloth = reading.strip.cloth): Reading => ({
  ...reading,
  strip: { ...reading.strip, dye, cloth },
});
