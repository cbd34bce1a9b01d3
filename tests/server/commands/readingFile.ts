import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { INDIGO, type Known, knownCurve } from '../../analysis/across/knownCurve.ts';

/** A folder for one test file, gone afterwards. Returns the path of a file written there. */
export const scratch = () => {
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-commands-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return (name: string, content: unknown): string => {
    const path = join(folder, name);
    writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
    return path;
  };
};

/** What `read --json` prints, as far as other commands take from it, for a dye whose curve is known in closed form. */
export const knownReading = (known: Known = INDIGO, dye = 'indigo', uL = 0.5) => {
  const curve = knownCurve(known, uL);
  return {
    strip: { dye, cloth: 'silk', light: 'tubes', card: 'grey-scale' },
    steps: curve.points,
    curve,
    advice: { target: { kind: 'depth', percent: 50 } },
    methodVersion: '1',
  };
};

/** Runs a command line that must answer; the JSON that it prints. */
export const answerOf = async (...words: readonly string[]) => {
  const { stdout, stderr, exit } = await runCommandLine([...words, '--json']);
  if (exit !== 0) throw new Error(stderr);
  return JSON.parse(stdout);
};

/** Runs a command line that must answer; the text for people. */
export const textOf = async (...words: readonly string[]): Promise<string> => {
  const { stdout, stderr, exit } = await runCommandLine(words);
  if (exit !== 0) throw new Error(stderr);
  return stdout;
};

export const longestLine = (text: string): number =>
  Math.max(...text.split('\n').map((line) => [...line].length));
