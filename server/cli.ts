import { runCommandLine } from './commands/commandLine.ts';

// A reader that has seen enough (`… | head`) closes the pipe; that is no fault.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });

const write = (stream: NodeJS.WriteStream, text: string): Promise<void> =>
  text === ''
    ? Promise.resolve()
    : new Promise((done) => {
        stream.write(text, () => done());
      });

const { stdout, stderr, exit } = await runCommandLine(process.argv.slice(2));
await write(process.stdout, stdout);
await write(process.stderr, stderr);
process.exitCode = exit;
