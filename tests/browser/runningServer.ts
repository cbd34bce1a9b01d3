import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

export interface RunningServer {
  readonly address: string;
  readonly port: number;
  /** Everything that the server wrote to its error stream. */
  readonly complaints: () => string;
  stop(): Promise<void>;
}

const script = resolve(import.meta.dirname, '../../dist/server/main.js');

/** With a book of its own, so that no test writes into anybody's. */
export const startProcess = (
  port: string,
  dataFolder = mkdtempSync(join(tmpdir(), 'tonestep-book-')),
): ChildProcess =>
  spawn(process.execPath, [script], {
    env: { ...process.env, PORT: port, TONESTEP_DATA: dataFolder },
    stdio: ['ignore', 'pipe', 'pipe'],
  });

/** Starts the built server on a port that the system chooses and waits until it prints its address. */
export const startServer = (): Promise<RunningServer> =>
  new Promise((settle, fail) => {
    const dataFolder = mkdtempSync(join(tmpdir(), 'tonestep-book-'));
    const child = startProcess('0', dataFolder);
    let complaints = '';
    child.stderr?.on('data', (text) => {
      complaints += text;
    });
    const ended = new Promise<void>((done) => child.once('exit', () => done()));
    child.once('exit', (code) => fail(new Error(`the server ended with status ${code}: ${complaints}`)));
    child.stdout?.on('data', (text) => {
      const match = /http:\/\/localhost:(\d+)/.exec(String(text));
      if (!match) return;
      settle({
        address: match[0],
        port: Number(match[1]),
        complaints: () => complaints,
        stop: async () => {
          child.kill('SIGTERM');
          await ended;
          rmSync(dataFolder, { recursive: true, force: true });
        },
      });
    });
  });
