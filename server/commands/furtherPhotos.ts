import type { Marks } from '../../analysis/locate/marks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import type { Taps } from '../../analysis/locate/taps.ts';
import { CommandError } from './command.ts';
import { readBytes, readJson } from './files.ts';

/** Reads "640,480". @throws CommandError `usage`. */
export const tapOf = (what: 'card' | 'strip', text: string | undefined): Taps => {
  if (text === undefined) return {};
  const [, x, y] = /^\s*(\d+(?:\.\d+)?)\s*,\s*(\d+(?:\.\d+)?)\s*$/.exec(text) ?? [];
  if (x === undefined || y === undefined)
    throw new CommandError('usage', `--tap-${what} is not understood: "${text}". Write pixels like 640,480`);
  return { [what]: [Number(x), Number(y)] };
};

export interface FurtherPhoto {
  readonly bytes: Uint8Array;
  readonly marks?: Marks;
}

/** Further photos of one strip: `--also`, with `--also-marks` in the same order. @throws CommandError, AnalysisError. */
export const furtherPhotos = async (
  also: readonly string[] = [],
  alsoMarks: readonly string[] = [],
): Promise<readonly FurtherPhoto[]> => {
  if (alsoMarks.length > 0 && alsoMarks.length !== also.length)
    throw new CommandError('usage', `--also-marks needs one file for each --also: ${also.length}`);
  return Promise.all(
    also.map(async (path, i) => ({
      bytes: await readBytes(path),
      ...(alsoMarks[i] !== undefined && {
        marks: parseMarks(await readJson(alsoMarks[i], 'marks-invalid')),
      }),
    })),
  );
};
