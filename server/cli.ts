import { runCommandLine } from './commands/commandLine.ts';

/** A reader that has seen enough (`… | head`) closes the pipe, which is no fault; a full disk is one. */
const write = (stream: NodeJS.WriteStream, text: string): Promise<NodeJS.ErrnoException | null> =>
  new Promise((done) => {
    stream.on('error', (error: NodeJS.ErrnoException) => done(error.code === 'EPIPE' ? null : error));
    if (text === '') done(null);
    else stream.write(text, (error) => error ?? done(null));
  });

const { stdout, stderr, exit } = await runCommandLine(process.argv.slice(2));
const failure = await write(process.stdout, stdout);
await write(
  process.stderr,
  failure ? `tonestep: The answer could not be written: ${failure.message}.\n` : stderr,
);
process.exitCode = failure ? 1 : exit;
