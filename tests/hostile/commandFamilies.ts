import fc from 'fast-check';
import { COMMANDS, runCommandLine } from '../../server/commands/commandLine.ts';
import { drawn, type Family } from './family.ts';
import { faultOf } from './outcome.ts';

const oddWord = fc.oneof(
  fc.constantFrom(
    '',
    '-',
    '--',
    '---',
    '-1',
    '0',
    '1/0',
    '1/3',
    '-0.5',
    '1e309',
    'NaN',
    'Infinity',
    '90',
    '1:30',
    '99:99',
    '4 min',
    '1e-9',
    '999999999999999999999',
    '0x10',
    '٣٠',
    '½',
    '\0',
    '\u001B[2J',
    '/dev/null',
    '/dev/zero',
    '/',
    '..',
    '.',
    'nowhere.jpg',
    'a\nb',
    'x'.repeat(5000),
    '%s%n',
    '$(reboot)',
    '`x`',
    'swatch',
    'L=45',
    'L=NaN',
    'depth=101%',
    'swatch=1,2',
    'full',
    'tubes',
    'sun',
    '\uD800',
    '✂️.jpg',
  ),
  fc.string({ unit: 'binary', maxLength: 30 }),
);

/** Commands that write no file. */
const QUIET = COMMANDS.filter(({ name }) =>
  ['plan', 'read', 'compare', 'transfer', 'drift', 'evenness'].includes(name),
);

const words = fc.constantFrom(...QUIET).chain(({ name, options }) => {
  const known = options.map(([option]) => option.split(' ')[0]);
  const optionWords = fc.tuple(fc.constantFrom(...known), oddWord).map(([option, value]) => [option, value]);
  return fc
    .array(
      fc.oneof(
        { arbitrary: optionWords, weight: 3 },
        oddWord.map((word) => [word]),
      ),
      { maxLength: 4 },
    )
    .map((parts) => [name, ...parts.flat()]);
});

const commandWords: Family = {
  name: 'words of the command line',
  count: 1500,
  open: async () => async (i) => {
    const line = drawn(words, 1_500_000 + i);
    const { stdout, stderr, exit } = await runCommandLine(line);
    if (exit === 1) throw new Error(`${JSON.stringify(line)}: ${stderr}`);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: exactly those must not reach a terminal
    if (/[\u0000-\u0008\u000B-\u001F\u007F-\u009F]/.test(stdout + stderr))
      throw new Error(`${JSON.stringify(line)} lets control signs through`);
    if (exit === 0) return 'answered';
    const sentence = stderr.replace(/^tonestep: /, '').trim();
    if (sentence === '') return 'help';
    // What was typed may come back in the sentence, paths too: they are the person's own.
    const own = line.reduce((text, word) => (word.length > 3 ? text.replaceAll(word, '…') : text), sentence);
    const fault = own.length > 700 ? null : faultOf(own);
    if (fault) throw new Error(`${JSON.stringify(line)}: ${fault}`);
    return 'refused';
  },
  describe: async (i) => JSON.stringify(drawn(words, 1_500_000 + i)).slice(0, 500),
};

export const commandFamilies: readonly Family[] = [commandWords];
