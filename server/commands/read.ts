import { parseArgs } from 'node:util';
import { parseTarget } from '../../analysis/advice/target.ts';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { type Command, CommandError } from './command.ts';
import { readBytes, readJson } from './files.ts';
import { readingJson } from './readingJson.ts';
import { readingText } from './readingText.ts';

const usage =
  'PHOTO --strip STRIP.json [--marks MARKS.json] [--target "L=45" | "depth=80%" | "full"] [--timer-step SECONDS] [--seed N] [--json]';

const numberOf = (text: string | undefined, name: string, least: number): number | undefined => {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (!Number.isFinite(value) || value < least)
    throw new CommandError('usage', `--${name} needs a number of at least ${least}; received "${text}".`);
  return value;
};

/** `tonestep read`: a photo in, an exposure out. */
export const read: Command = {
  name: 'read',
  usage,
  summary: 'reads a photo of a test strip: L* and verdict per step, curve, exposure time with interval',
  run: async (words) => {
    const { values, positionals } = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        strip: { type: 'string' },
        marks: { type: 'string' },
        target: { type: 'string' },
        seed: { type: 'string' },
        'timer-step': { type: 'string' },
        json: { type: 'boolean' },
      },
    });
    if (positionals.length !== 1) throw new CommandError('usage', `Name one photo: tonestep read ${usage}`);
    if (values.strip === undefined)
      throw new CommandError('usage', `The strip's description is missing: tonestep read ${usage}`);
    const seed = numberOf(values.seed, 'seed', 0);
    const timerStepSeconds = numberOf(values['timer-step'], 'timer-step', 0.1);
    const target = values.target === undefined ? undefined : parseTarget(values.target);
    const strip = parseStrip(await readJson(values.strip, 'strip-invalid'));
    const marks =
      values.marks === undefined ? undefined : parseMarks(await readJson(values.marks, 'marks-invalid'));
    const reading = await readStrip(await readBytes(positionals[0]), strip, {
      ...(marks && { marks }),
      ...(target && { target }),
      ...(seed !== undefined && { seed: Math.floor(seed) }),
      ...(timerStepSeconds !== undefined && { timerStepSeconds }),
    });
    return { text: readingText(reading), json: readingJson(reading) };
  },
};
