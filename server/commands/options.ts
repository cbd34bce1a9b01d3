import { type ParseArgsConfig, parseArgs } from 'node:util';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseSeconds, parseStops } from '../../analysis/plan/time.ts';
import { CommandError } from './command.ts';

type OptionsConfig = NonNullable<ParseArgsConfig['options']>;

/** "-1/3" after an option is its value, not another option. */
const joinNegatives = (words: readonly string[], options: OptionsConfig): string[] => {
  const joined: string[] = [];
  for (const word of words) {
    const before = joined.at(-1)?.replace(/^--/, '');
    const takesValue =
      joined.at(-1)?.startsWith('--') && before !== undefined && options[before]?.type === 'string';
    if (takesValue && /^-[\d.½⅓⅔¼¾⅙]/.test(word)) joined[joined.length - 1] += `=${word}`;
    else joined.push(word);
  }
  return joined;
};

const isParseError = (error: unknown): error is Error =>
  error instanceof TypeError && String((error as NodeJS.ErrnoException).code).startsWith('ERR_PARSE_ARGS');

/**
 * Takes a command's words apart.
 *
 * @throws CommandError `usage` for an unknown option or one without its value.
 */
export const parseWords = <const T extends OptionsConfig>(words: readonly string[], options: T) => {
  try {
    return parseArgs({ args: joinNegatives(words, options), allowPositionals: true, options });
  } catch (error) {
    if (!isParseError(error)) throw error;
    const [sentence] = error.message.split(/[.\n]/);
    const [, valueless] =
      /^Option '[^']*?(--[\w-]+)[^']*' argument (?:missing|is ambiguous)/.exec(sentence) ?? [];
    throw new CommandError('usage', valueless === undefined ? sentence : `${valueless} has no value`);
  }
};

/** Reads an option's value by a rule of the analysis, whose refusal then names the option. */
const read = <T>(name: string, text: string | undefined, by: (text: string) => T): T | undefined => {
  if (text === undefined) return undefined;
  try {
    return by(text);
  } catch (error) {
    if (!(error instanceof AnalysisError)) throw error;
    throw new CommandError('usage', `--${name}: ${error.message}`);
  }
};

/** A time as people write it, in seconds. */
export const secondsOf = (name: string, text: string | undefined) => read(name, text, parseSeconds);

/** Stops as people write them: 1, 1/3, -0.5. */
export const stopsOf = (name: string, text: string | undefined) => read(name, text, parseStops);

/** A plain number of at least `least`. */
export const numberOf = (name: string, text: string | undefined, least: number): number | undefined => {
  if (text === undefined) return undefined;
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (!Number.isFinite(value) || value < least)
    throw new CommandError('usage', `--${name} needs a number of at least ${least}; received "${text}".`);
  return value;
};

export const wholeNumberOf = (name: string, text: string | undefined, least: number): number | undefined => {
  const value = numberOf(name, text, least);
  if (value !== undefined && !Number.isSafeInteger(value))
    throw new CommandError('usage', `--${name} needs a whole number; received "${text}".`);
  return value;
};

/** "80%" or "80". */
export const percentOf = (name: string, text: string | undefined): number | undefined =>
  numberOf(name, text?.trim().replace(/\s*%$/, ''), 0);

/** One of a few words. */
export const choiceOf = <const T extends string>(
  name: string,
  text: string | undefined,
  choices: readonly T[],
): T | undefined => {
  if (text === undefined) return undefined;
  const found = choices.find((choice) => choice === text.trim().toLowerCase());
  if (!found) throw new CommandError('usage', `--${name} "${text}" is not known. Use ${choices.join(', ')}.`);
  return found;
};
