import { AnalysisError } from '../analysis/errors.ts';
import { type Command, CommandError } from './commands/command.ts';
import { read } from './commands/read.ts';

const COMMANDS: readonly Command[] = [read];

const help = (): string =>
  [
    'tonestep: from a photo of a test strip to an exposure time.',
    '',
    ...COMMANDS.map((c) => `  tonestep ${c.name} ${c.usage}\n      ${c.summary}`),
    '',
    'Every command takes --json for one JSON object on stdout. Exit 0: an answer. Exit 2: refused input, with the reason.',
    '',
  ].join('\n');

const isArgumentError = (error: unknown): error is Error =>
  error instanceof TypeError && String((error as NodeJS.ErrnoException).code).startsWith('ERR_PARSE_ARGS');

/** One place maps everything that can go wrong to a code, a sentence and an exit status. */
const refusal = (
  error: unknown,
  command: Command | undefined,
): { code: string; message: string; exit: number } => {
  if (error instanceof AnalysisError || error instanceof CommandError)
    return { code: error.code, message: error.message, exit: 2 };
  if (isArgumentError(error))
    return {
      code: 'usage',
      message: `${error.message.split('. ')[0].split('\n')[0]}. Use: tonestep ${command?.name} ${command?.usage}`,
      exit: 2,
    };
  return {
    code: 'internal',
    message: `Something went wrong inside Tonestep (${error instanceof Error ? error.message.split('\n')[0] : 'unknown'}). Please report it with the photo.`,
    exit: 1,
  };
};

const write = (stream: NodeJS.WriteStream, text: string): Promise<void> =>
  new Promise((done) => {
    stream.write(text, () => done());
  });

const main = async (words: readonly string[]): Promise<number> => {
  const [name, ...rest] = words;
  if (name === undefined || name === 'help' || name === '--help' || name === '-h') {
    await write(process.stdout, help());
    return name === undefined ? 2 : 0;
  }
  const command = COMMANDS.find((c) => c.name === name);
  const json = rest.includes('--json');
  try {
    if (!command)
      throw new CommandError(
        'usage',
        `"${name}" is not a command. Use one of: ${COMMANDS.map((c) => c.name).join(', ')}.`,
      );
    const answer = await command.run(rest);
    await write(process.stdout, json ? `${JSON.stringify(answer.json)}\n` : answer.text);
    return 0;
  } catch (error) {
    const { code, message, exit } = refusal(error, command);
    const oneLine = message.replace(/\s*\n\s*/g, ' ');
    if (json) await write(process.stdout, `${JSON.stringify({ error: { code, message: oneLine } })}\n`);
    await write(process.stderr, `tonestep: ${oneLine}\n`);
    return exit;
  }
};

process.exitCode = await main(process.argv.slice(2));
