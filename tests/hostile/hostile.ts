import { type ChildProcess, fork } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { families } from './families.ts';
import type { Outcome } from './outcome.ts';

// `npm run hostile`: more than 20,000 hostile inputs. Each must end in an answer or in a refusal with a code and a
// sentence, within 1 GB and 5 s of computing (a machine that is busy with other things may take longer on the clock,
// up to 30 s). `-- --share 0.1` for a tenth of each kind; `-- --only NAME` for one kind.
// Last line: `N passed, N failed`.
const LONGEST_MS = 5000;
const LONGEST_ON_THE_CLOCK_MS = 30_000;
const MOST_BYTES = 1_000_000_000;

const words = process.argv.slice(2);
const optionOf = (name: string): string | undefined => {
  const at = words.indexOf(`--${name}`);
  return at >= 0 ? words[at + 1] : undefined;
};
const share = Number(optionOf('share') ?? 1);
const only = optionOf('only');

interface Input {
  readonly name: string;
  readonly i: number;
}

const inputs: readonly Input[] = families
  .filter(({ name }) => only === undefined || name.includes(only))
  .flatMap(({ name, count }) => {
    const wanted = Math.max(1, Math.round(count * share));
    return Array.from({ length: wanted }, (_, k) => ({ name, i: Math.floor((k * count) / wanted) }));
  });

interface Ended {
  readonly outcome: Outcome;
  readonly computedMs: number;
  readonly peakBytes: number;
}

const counts = new Map<string, Map<string, number>>();
const faults: { readonly input: Input; readonly fault: string }[] = [];
const slowest = new Map<string, number>();
let peak = 0;
let next = 0;

const note = (input: Input, { code, fault }: Outcome, ms: number): void => {
  const ofFamily = counts.get(input.name) ?? new Map<string, number>();
  counts.set(input.name, ofFamily.set(code, (ofFamily.get(code) ?? 0) + 1));
  slowest.set(input.name, Math.max(slowest.get(input.name) ?? 0, ms));
  if (fault !== null) faults.push({ input, fault });
};

/** One input in a child: its outcome, also where the child hangs, dies or takes too much. */
const attempt = (child: ChildProcess, input: Input): Promise<{ ended: boolean }> =>
  new Promise((resolve) => {
    let timer: NodeJS.Timeout | undefined;
    const settle = (outcome: Outcome, computedMs: number, ended: boolean): void => {
      clearTimeout(timer);
      child.off('message', onMessage).off('exit', onExit);
      note(input, outcome, computedMs);
      resolve({ ended });
    };
    const end = (code: string, fault: string, computedMs: number): void => {
      child.off('exit', onExit).kill('SIGKILL');
      settle({ code, fault }, computedMs, true);
    };
    const onExit = (status: number | null, signal: string | null): void =>
      settle({ code: 'CRASH', fault: `the process ended with ${signal ?? status}` }, 0, true);
    const onMessage = (message: { begun: true } | Ended): void => {
      if ('begun' in message) {
        timer = setTimeout(
          () => end('HANG', `no end after ${LONGEST_ON_THE_CLOCK_MS} ms`, LONGEST_ON_THE_CLOCK_MS),
          LONGEST_ON_THE_CLOCK_MS,
        );
        return;
      }
      const { outcome, computedMs, peakBytes } = message;
      peak = Math.max(peak, peakBytes);
      if (peakBytes > MOST_BYTES) end('MEMORY', `${Math.round(peakBytes / 1e6)} MB`, computedMs);
      else if (computedMs > LONGEST_MS) end('HANG', `${Math.round(computedMs)} ms of computing`, computedMs);
      else settle(outcome, computedMs, false);
    };
    child.on('message', onMessage).on('exit', onExit);
    child.send(input);
  });

const startChild = (): ChildProcess =>
  fork(join(import.meta.dirname, 'job.ts'), {
    execArgv: ['--import', 'tsx'],
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });

const lane = async (): Promise<void> => {
  let child = startChild();
  let family = inputs[next]?.name;
  while (next < inputs.length) {
    const input = inputs[next++];
    // What one kind holds in memory must not count against the next.
    if (input.name !== family) {
      child.removeAllListeners('exit').kill('SIGKILL');
      child = startChild();
      family = input.name;
    }
    const { ended } = await attempt(child, input);
    if (ended) child = startChild();
  }
  child.removeAllListeners('exit').kill('SIGKILL');
};

const started = performance.now();
await Promise.all(Array.from({ length: Math.max(1, Math.min(4, availableParallelism())) }, lane));

const print = (text: string): void => {
  process.stdout.write(`${text}\n`);
};
const totals = new Map<string, number>();
for (const [name, ofFamily] of counts) {
  const tried = [...ofFamily.values()].reduce((sum, n) => sum + n, 0);
  print(`${name}: ${tried}, slowest ${((slowest.get(name) ?? 0) / 1000).toFixed(2)} s of computing`);
  for (const [code, count] of [...ofFamily].sort((a, b) => b[1] - a[1])) {
    print(`  ${String(count).padStart(6)}  ${code}`);
    totals.set(code, (totals.get(code) ?? 0) + count);
  }
}
for (const { input, fault } of faults.slice(0, 30)) {
  const family = families.find(({ name }) => name === input.name);
  print(`\nFAULT in ${input.name}, input ${input.i}: ${(await family?.describe?.(input.i)) ?? ''}\n${fault}`);
}
const bad = faults.length;
print(
  `\n${inputs.length} inputs: ${['CRASH', 'HANG', 'MEMORY'].map((code) => `${code.toLowerCase()} ${totals.get(code) ?? 0}`).join(', ')}; largest process ${(peak / 1e6).toFixed(0)} MB; ${((performance.now() - started) / 1000).toFixed(0)} s`,
);
print(`${inputs.length - bad} passed, ${bad} failed`);
process.exitCode = bad === 0 ? 0 : 1;
