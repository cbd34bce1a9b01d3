import { parseTarget } from '../../analysis/advice/target.ts';
import { readStripPhotos } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { type Command, CommandError } from './command.ts';
import { readJson } from './files.ts';
import { parseWords, wholeNumberOf } from './options.ts';
import { ONE_STRIP_WORDS, PHOTO_WORDS, photoHelp, photoInput } from './photoInput.ts';
import { readingJson } from './readingJson.ts';
import { readingText } from './readingText.ts';
import { readMany } from './readMany.ts';
import { curveOf, readStoredReading } from './storedReading.ts';
import { workshopOf } from './workshop.ts';

/** `tonestep read`: a photo in, an exposure out. */
export const read: Command = {
  name: 'read',
  usage: [
    'PHOTO [--strip STRIP.json] [--marks MARKS.json] [--target TARGET]',
    'PHOTO PHOTO … [--strip STRIP.json] [--target TARGET]',
  ],
  summary: 'reads a photo of a test strip: L* and verdict per step, curve, exposure time with interval',
  options: [
    ...photoHelp({
      target:
        '"L=45", "depth=80%", "full" (when left out), "swatch=L,a,b", or "swatch": the one that is marked',
      further: '',
    }),
    [
      '--with READING.json',
      'an earlier strip of the same dye, cloth and light, fitted together; may be repeated',
    ],
    ['--seed N', 'seed of everything drawn at random, 1 when left out'],
    [
      '--json',
      'one JSON object; kept in a file it is what the other commands read; a list for several photos',
    ],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      ...PHOTO_WORDS,
      with: { type: 'string', multiple: true },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length === 0) throw new CommandError('usage', 'Name a photo, or several');
    const several = positionals.length > 1;
    const forOne = [...ONE_STRIP_WORDS, 'with' as const].find((name) => values[name]);
    if (several && forOne)
      throw new CommandError(
        'usage',
        `Several photos are read as strips of their own, and --${forOne} goes with one. More photos of one strip: --also PHOTO`,
      );
    const seed = wholeNumberOf('seed', values.seed, 0);
    const target =
      values.target === undefined
        ? undefined
        : values.target.trim() === 'swatch'
          ? ('marked-swatch' as const)
          : parseTarget(values.target);
    const common = {
      ...(target && { target }),
      ...(seed !== undefined && { seed }),
      ...workshopOf(values),
    };
    if (several)
      return readMany(positionals, {
        ...common,
        ...(values.strip !== undefined && {
          strip: parseStrip(await readJson(values.strip, 'strip-invalid')),
        }),
      });
    const { photo, stripJson, marks, taps, also } = await photoInput(positionals[0], values);
    const earlier = await Promise.all(
      (values.with ?? []).map(async (path) => {
        const { points, covarianceL } = curveOf(await readStoredReading(path));
        return { points, covarianceL };
      }),
    );
    const reading = await readStripPhotos(
      [{ bytes: photo, ...(marks && { marks }), ...(taps && { taps }) }, ...also],
      parseStrip(stripJson),
      { earlier, ...common },
    );
    return { text: readingText(reading), json: readingJson(reading) };
  },
};
