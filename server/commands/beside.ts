import { existsSync } from 'node:fs';
import type { Strip } from '../../analysis/level/card.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import type { Marks } from '../../analysis/locate/marks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { CommandError } from './command.ts';
import { located, readJson } from './files.ts';

/** The path of the file that lies beside a photo under its name: scarf.jpg and "strip" make scarf.strip.json. */
export const besidePath = (photo: string, what: 'strip' | 'marks'): string =>
  `${photo.replace(/\.[^./\\]+$/, '')}.${what}.json`;

/**
 * The file beside a photo that says what was exposed on it.
 *
 * @throws CommandError `file-unreadable` where there is none, saying where to put it.
 */
export const stripPathBeside = (photo: string): string => {
  const path = besidePath(photo, 'strip');
  if (existsSync(located(path))) return path;
  throw new CommandError(
    'file-unreadable',
    `What was exposed on ${photo} is not said: put ${path} beside it, or add --strip STRIP.json.`,
  );
};

/**
 * What lies beside a photo about it: its strip, and its marks where there are any.
 *
 * @throws CommandError `file-unreadable` where there is no strip; AnalysisError for one that can't be used.
 */
export const readBeside = async (
  photo: string,
): Promise<{ readonly strip: Strip; readonly marks?: Marks }> => {
  const strip = parseStrip(await readJson(stripPathBeside(photo), 'strip-invalid'));
  const marksPath = besidePath(photo, 'marks');
  if (!existsSync(located(marksPath))) return { strip };
  return { strip, marks: parseMarks(await readJson(marksPath, 'marks-invalid')) };
};
