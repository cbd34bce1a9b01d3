import { existsSync } from 'node:fs';
import type { Marks } from '../../analysis/locate/marks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import type { Taps } from '../../analysis/locate/taps.ts';
import { besidePath, stripPathBeside } from './beside.ts';
import { located, readBytes, readJson } from './files.ts';
import { type FurtherPhoto, furtherPhotos, tapOf } from './furtherPhotos.ts';
import { WORKSHOP_HELP, WORKSHOP_WORDS } from './workshop.ts';

/** What can be said of a photo of a strip, by every command that reads one. */
export const PHOTO_WORDS = {
  strip: { type: 'string' },
  marks: { type: 'string' },
  'tap-card': { type: 'string' },
  'tap-strip': { type: 'string' },
  also: { type: 'string', multiple: true },
  'also-marks': { type: 'string', multiple: true },
  target: { type: 'string' },
  ...WORKSHOP_WORDS,
} as const;

/** Those of them that are about where things are in one photo, or about more photos of one strip. */
export const ONE_STRIP_WORDS = ['marks', 'tap-card', 'tap-strip', 'also', 'also-marks'] as const;

/** Help on these words; `target` and `further` say what the command does with target and further photos. */
export const photoHelp = ({ target, further }: { readonly target: string; readonly further: string }) =>
  [
    [
      '--strip FILE',
      'what was exposed: dye, cloth, light, card and step times, as JSON; left out, NAME.strip.json (and NAME.marks.json, if any) beside NAME.jpg',
    ],
    ['--marks FILE', 'where card and steps are, in pixels of the upright photo; looked for when left out'],
    [
      '--tap-card X,Y',
      'a point on the card, in pixels of the upright photo, where it is not found or not surely',
    ],
    ['--tap-strip X,Y', 'a point on the strip, likewise'],
    [
      '--also PHOTO',
      `one more photo of the same strip, turned end for end or simply again${further}; may be repeated`,
    ],
    ['--also-marks FILE', 'marks of that photo, in the order of --also'],
    ['--target TARGET', target],
    ...WORKSHOP_HELP,
  ] as const;

export interface PhotoInput {
  readonly photo: Uint8Array;
  /** The description of the strip, as its file has it. */
  readonly stripJson: unknown;
  /** Given, or lying beside the photo; left out where they are to be looked for. */
  readonly marks?: Marks;
  /** Left out where nothing was tapped: a measuring sheet is only looked for then. */
  readonly taps?: Taps;
  readonly also: readonly FurtherPhoto[];
}

/**
 * A photo of a strip with all that was typed about it.
 *
 * @throws CommandError `usage`, `file-unreadable`; AnalysisError `strip-invalid`, `marks-invalid`.
 */
export const photoInput = async (
  path: string,
  values: {
    readonly strip?: string | undefined;
    readonly marks?: string | undefined;
    readonly 'tap-card'?: string | undefined;
    readonly 'tap-strip'?: string | undefined;
    readonly also?: readonly string[] | undefined;
    readonly 'also-marks'?: readonly string[] | undefined;
  },
): Promise<PhotoInput> => {
  const taps = { ...tapOf('card', values['tap-card']), ...tapOf('strip', values['tap-strip']) };
  const photo = await readBytes(path);
  const stripJson = await readJson(values.strip ?? stripPathBeside(path), 'strip-invalid');
  const besideMarks = besidePath(path, 'marks');
  const marksPath =
    values.marks ??
    (values.strip === undefined && existsSync(located(besideMarks)) ? besideMarks : undefined);
  const marks = marksPath === undefined ? undefined : parseMarks(await readJson(marksPath, 'marks-invalid'));
  return {
    photo,
    stripJson,
    ...(marks && { marks }),
    ...(Object.keys(taps).length > 0 && { taps }),
    also: await furtherPhotos(values.also, values['also-marks']),
  };
};
