import { packageRoot, packageVersion } from '../packageRoot.ts';
import { backup } from './backup.ts';
import { book } from './book.ts';
import { type Command, CommandError, type Described } from './command.ts';
import { compare } from './compare.ts';
import { drift } from './drift.ts';
import { evenness } from './evenness.ts';
import { exportBook } from './export.ts';
import { importBook } from './import.ts';
import { keep } from './keep.ts';
import { made } from './made.ts';
import { plan } from './plan.ts';
import { read } from './read.ts';
import { refusedInput } from './refusedInput.ts';
import { report } from './report.ts';
import { restore } from './restore.ts';
import { sheet } from './sheet.ts';
import { table } from './table.ts';
import { today } from './today.ts';
import { transfer } from './transfer.ts';
import { wrapped } from './wrapped.ts';

/** Every word that may follow `tonestep`. */
export const COMMANDS: readonly Command[] = [
  plan,
  sheet,
  read,
  compare,
  transfer,
  drift,
  evenness,
  report,
  table,
  keep,
  today,
  made,
  book,
  exportBook,
  importBook,
  backup,
  restore,
];

/** Serving the page is no command that ends with an answer, but stands beside them in the help. */
const START: Described = {
  name: 'start',
  usage: ['[--lan | --lan=ADDRESS]'],
  summary: 'opens the page on this computer, with --lan also for paired phones on the local network',
  options: [
    ['--lan', 'phones that you pair on the page come in; without it nothing outside this computer does'],
    ['--lan=ADDRESS', 'the same on one of several networks'],
    ['PORT=5000', 'set before the command: another port than 4747'],
  ],
};
const HELPED: readonly Described[] = [START, ...COMMANDS];

/** Where the text of a run goes, and how the process ends. */
export interface RunResult {
  readonly stdout: string;
  readonly stderr: string;
  /** 0 an answer, 2 refused input, 1 a fault of our own. */
  readonly exit: 0 | 1 | 2;
}

const overview = (): string => {
  const width = Math.max(...HELPED.map((c) => c.name.length));
  return [
    'tonestep: from a photo of a test strip to an exposure time.',
    '',
    ...HELPED.map((c) => wrapped(c.summary, `  tonestep ${c.name.padEnd(width)}  `, ' '.repeat(width + 13))),
    '',
    wrapped(
      '"tonestep help COMMAND" lists the options of one, "tonestep --version" says which version this is. Every command but start takes --json for one JSON object on stdout. Exit 0: an answer. Exit 2: refused input, with the reason and what to do. Exit 1: a fault of ours.',
    ),
    '',
  ].join('\n');
};

const helpOn = ({ name, usage, summary, options }: Described): string => {
  const width = Math.max(...options.map(([option]) => option.length));
  return [
    wrapped(`tonestep ${name}: ${summary}`),
    '',
    ...usage.map((form) => wrapped(`tonestep ${name} ${form}`, '  ', '      ')),
    '',
    ...options.map(([option, meaning]) =>
      wrapped(meaning, `  ${option.padEnd(width)}  `, ' '.repeat(width + 4)),
    ),
    '',
  ].join('\n');
};

/** One place maps everything that can go wrong to a code, a sentence and an exit status. */
const refusal = (
  error: unknown,
  command: Command | undefined,
): { readonly code: string; readonly message: string; readonly exit: 1 | 2 } => {
  if (error instanceof CommandError && error.code === 'usage') {
    const stopped = /[.?!]$/.test(error.message) ? error.message : `${error.message}.`;
    return {
      code: error.code,
      message: command ? `${stopped} "tonestep help ${command.name}" lists what it takes.` : stopped,
      exit: 2,
    };
  }
  const refused = refusedInput(error);
  if (refused) return { ...refused, exit: 2 };
  const what = error instanceof Error ? error.message.split('\n')[0] : 'unknown';
  return {
    code: 'internal',
    message: `Something went wrong inside Tonestep (${what}). Please report it with the files used.`,
    exit: 1,
  };
};

const find = <D extends Described>(name: string | undefined, among: readonly D[]): D => {
  const command = among.find((c) => c.name === name);
  if (command) return command;
  if (name === START.name)
    throw new CommandError('usage', '"start" stands alone: tonestep start, or tonestep start --lan.');
  throw new CommandError(
    'usage',
    `"${name}" is not a command. Use one of: ${HELPED.map((c) => c.name).join(', ')}; "tonestep help" says what each does.`,
  );
};

const isHelp = (word: string | undefined): boolean => word === '--help' || word === '-h';

/** Without what could steer a terminal: names in a file may hold escape sequences. */
const plain = (text: string): string => text.replace(/(?![\n\t])\p{Cc}/gu, '');

/**
 * Runs one command line, words after `tonestep`. Never throws: what goes wrong is in the result, one line on stderr and
 * with --json one object on stdout.
 */
export const runCommandLine = async (words: readonly string[]): Promise<RunResult> => {
  const [name, ...rest] = words;
  const json = rest.includes('--json');
  let command: Command | undefined;
  try {
    if (name === undefined) return { stdout: overview(), stderr: '', exit: 2 };
    if (name === 'help' || isHelp(name))
      return {
        stdout: rest[0] === undefined ? overview() : helpOn(find(rest[0], HELPED)),
        stderr: '',
        exit: 0,
      };
    if (name === '--version')
      return { stdout: `${packageVersion(packageRoot(import.meta.url))}\n`, stderr: '', exit: 0 };
    command = find(name, COMMANDS);
    if (rest.some(isHelp)) return { stdout: helpOn(command), stderr: '', exit: 0 };
    const answer = await command.run(rest);
    const stdout = json ? `${JSON.stringify(answer.json)}\n` : plain(answer.text);
    if (answer.complaint === undefined) return { stdout, stderr: '', exit: 0 };
    return { stdout, stderr: `tonestep: ${plain(answer.complaint)}\n`, exit: 2 };
  } catch (error) {
    const { code, message, exit } = refusal(error, command);
    const oneLine = plain(message).replace(/\s*\n\s*/g, ' ');
    return {
      stdout: json ? `${JSON.stringify({ error: { code, message: oneLine } })}\n` : '',
      stderr: `tonestep: ${oneLine}\n`,
      exit,
    };
  }
};
