import { parseTarget } from '../../analysis/advice/target.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { comparisonOf } from '../across/comparing.ts';
import { type Command, CommandError } from './command.ts';
import { compareText } from './compareText.ts';
import { parseWords, percentOf, wholeNumberOf } from './options.ts';
import { readStoredReading } from './storedReading.ts';

const MOST_READINGS = 12;

const targetLOf = (text: string | undefined): number | undefined => {
  if (text === undefined) return undefined;
  const target = parseTarget(text);
  if (target.kind === 'L') return target.L;
  throw new AnalysisError(
    'target-invalid',
    'Dyes are timed to one lightness that they have in common: write the target as "L=45".',
  );
};

/** `tonestep compare`: dyes on one cloth side by side. */
export const compare: Command = {
  name: 'compare',
  usage: ['READING.json READING.json … [--depth 50%] [--target "L=45"]'],
  summary: 'compares dyes on one cloth under one light: speed, contrast, deepest colour, each with interval',
  options: [
    ['--depth PERCENT', "depth of each dye's own range at which speeds are compared, 50 % when left out"],
    ['--target "L=45"', 'a lightness that all dyes are timed to'],
    ['--same', 'cloth and light are the same, however they are written in the readings'],
    ['--seed N', 'seed of the intervals, 1 when left out'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      depth: { type: 'string' },
      target: { type: 'string' },
      same: { type: 'boolean' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length < 2 || positionals.length > MOST_READINGS)
      throw new CommandError('usage', `Name 2 to ${MOST_READINGS} readings to compare`);
    const depthPercent = percentOf('depth', values.depth);
    const targetL = targetLOf(values.target);
    const seed = wholeNumberOf('seed', values.seed, 0);
    const readings = await Promise.all(positionals.map(readStoredReading));
    const comparison = comparisonOf(
      {
        same: values.same === true,
        ...(depthPercent === undefined ? {} : { depthPercent }),
        ...(targetL === undefined ? {} : { targetL }),
        ...(seed === undefined ? {} : { seed }),
      },
      readings,
    );
    const [{ cloth, light }] = readings.map(({ reading }) => reading.strip);
    return { text: compareText(comparison, cloth, light), json: comparison };
  },
};
