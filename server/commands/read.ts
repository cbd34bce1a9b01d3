import { parseTarget } from '../../analysis/advice/target.ts';
import { readStripPhotos } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { readBeside } from './beside.ts';
import { type Command, CommandError } from './command.ts';
import { readBytes, readJson } from './files.ts';
import { furtherPhotos, tapOf } from './furtherPhotos.ts';
import { parseWords, wholeNumberOf } from './options.ts';
import { readingJson } from './readingJson.ts';
import { readingText } from './readingText.ts';
import { readMany } from './readMany.ts';
import { curveOf, readStoredReading } from './storedReading.ts';
import { WORKSHOP_HELP, WORKSHOP_WORDS, workshopOf } from './workshop.ts';

/** `tonestep read`: a photo in, an exposure out. */
export const read: Command = {
  name: 'read',
  usage: [
    'PHOTO [--strip STRIP.json] [--marks MARKS.json] [--target TARGET]',
    'PHOTO PHOTO … [--strip STRIP.json] [--target TARGET]',
  ],
  summary: 'reads a photo of a test strip: L* and verdict per step, curve, exposure time with interval',
  options: [
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
    ['--also PHOTO', 'one more photo of the same strip, turned end for end or simply again; may be repeated'],
    ['--also-marks FILE', 'marks of that photo, in the order of --also'],
    [
      '--with READING.json',
      'an earlier strip of the same dye, cloth and light, fitted together; may be repeated',
    ],
    [
      '--target TARGET',
      '"L=45", "depth=80%", "full" (when left out), "swatch=L,a,b", or "swatch": the one that is marked',
    ],
    ...WORKSHOP_HELP,
    ['--seed N', 'seed of everything drawn at random, 1 when left out'],
    [
      '--json',
      'one JSON object; kept in a file it is what the other commands read; a list for several photos',
    ],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      strip: { type: 'string' },
      marks: { type: 'string' },
      'tap-card': { type: 'string' },
      'tap-strip': { type: 'string' },
      also: { type: 'string', multiple: true },
      with: { type: 'string', multiple: true },
      'also-marks': { type: 'string', multiple: true },
      target: { type: 'string' },
      seed: { type: 'string' },
      ...WORKSHOP_WORDS,
      json: { type: 'boolean' },
    });
    if (positionals.length === 0) throw new CommandError('usage', 'Name a photo, or several');
    const several = positionals.length > 1;
    const forOne = (['marks', 'tap-card', 'tap-strip', 'also', 'also-marks', 'with'] as const).find(
      (name) => values[name],
    );
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
    const said =
      values.strip === undefined ? null : parseStrip(await readJson(values.strip, 'strip-invalid'));
    const common = {
      ...(target && { target }),
      ...(seed !== undefined && { seed }),
      ...workshopOf(values),
    };
    if (several) return readMany(positionals, { ...common, ...(said && { strip: said }) });
    const beside: Awaited<ReturnType<typeof readBeside>> = said
      ? { strip: said }
      : await readBeside(positionals[0]);
    const { strip } = beside;
    const marks =
      values.marks === undefined ? beside.marks : parseMarks(await readJson(values.marks, 'marks-invalid'));
    const taps = {
      ...tapOf('card', values['tap-card']),
      ...tapOf('strip', values['tap-strip']),
    };
    const earlier = await Promise.all(
      (values.with ?? []).map(async (path) => {
        const { points, covarianceL } = curveOf(await readStoredReading(path));
        return { points, covarianceL };
      }),
    );
    const others = await furtherPhotos(values.also, values['also-marks']);
    const reading = await readStripPhotos(
      [{ bytes: await readBytes(positionals[0]), ...(marks && { marks }), taps }, ...others],
      strip,
      { earlier, ...common },
    );
    return { text: readingText(reading), json: readingJson(reading) };
  },
};
