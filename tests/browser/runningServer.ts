import { type ChildProcess, spawn } from 'node:child_process';
import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export interface RunningServer {
  /** Under which the computer itself opens it. */
  readonly address: string;
  readonly port: number;
  /** Under which phones open it; null where it was not started with --lan. */
  readonly networkAddress: string | null;
  /** Holds what the server wrote to its error stream. */
  readonly complaintsFile: string;
  /** Everything that the server wrote to its error stream. */
  readonly complaints: () => string;
  /** Sends the process a signal. */
  readonly signal: (name: NodeJS.Signals) => void;
  stop(): Promise<void>;
}

export interface StartOptions {
  /** Words after the script, such as --lan. */
  readonly words?: readonly string[];
  /** Variables beside those of this process. */
  readonly env?: Readonly<Record<string, string>>;
}

const script = resolve(import.meta.dirname, '../../dist/server/main.js');

/** With a book of its own, so that no test writes into anybody's. */
export const startProcess = (
  port: string,
  dataFolder = mkdtempSync(join(tmpdir(), 'tonestep-book-')),
  { words = [], env = {} }: StartOptions = {},
): ChildProcess =>
  spawn(process.execPath, [script, ...words], {
    env: { ...process.env, ...env, PORT: port, TONESTEP_DATA: dataFolder },
    stdio: ['ignore', 'pipe', 'pipe'],
  });

export const complaintsIn = (file: string): string => (existsSync(file) ? readFileSync(file, 'utf8') : '');

/** Starts the built server on a port that the system chooses and waits until it prints its addresses. */
export const startServer = (options: StartOptions = {}): Promise<RunningServer> =>
  new Promise((settle, fail) => {
    const folder = mkdtempSync(join(tmpdir(), 'tonestep-book-'));
    const complaintsFile = join(folder, 'complaints.txt');
    const child = startProcess('0', join(folder, 'data'), options);
    child.stderr?.on('data', (text) => appendFileSync(complaintsFile, text));
    const ended = new Promise<void>((done) => child.once('exit', () => done()));
    child.once('exit', (code) =>
      fail(new Error(`the server ended with status ${code}: ${complaintsIn(complaintsFile)}`)),
    );
    const forPhones = options.words?.some((word) => word.startsWith('--lan')) ?? false;
    let said = '';
    child.stdout?.on('data', (text) => {
      said += text;
      const own = /http:\/\/localhost:(\d+)/.exec(said);
      const network = /network: (http:\/\/\S+)/.exec(said);
      if (!own || (forPhones && !network)) return;
      settle({
        address: own[0],
        port: Number(own[1]),
        networkAddress: network?.[1] ?? null,
        complaintsFile,
        complaints: () => complaintsIn(complaintsFile),
        signal: (name) => child.kill(name),
        stop: async () => {
          child.kill('SIGTERM');
          await ended;
          rmSync(folder, { recursive: true, force: true });
        },
      });
    });
  });
