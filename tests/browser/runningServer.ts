import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';

export interface RunningServer {
  readonly address: string;
  readonly port: number;
  /** Everything that the server wrote to its error stream. */
  readonly complaints: () => string;
  stop(): Promise<void>;
}

const script = resolve(import.meta.dirname, '../../dist/server/main.js');

export const startProcess = (port: string): ChildProcess =>
  spawn(process.execPath, [script], {
    env: { ...process.env, PORT: port },
    stdio: ['ignore', 'pipe', 'pipe'],
  });

/** Starts the built server on a port that the system chooses and waits until it prints its address. */
export const startServer = (): Promise<RunningServer> =>
  new Promise((settle, fail) => {
    const child = startProcess('0');
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
        },
      });
    });
  });
