import { availableParallelism, totalmem } from 'node:os';
import type { Target } from '../../analysis/advice/advice.ts';
import type { Strip } from '../../analysis/level/card.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import type { Reading } from '../../analysis/reading.ts';
import { performRead } from '../perform.ts';
import { createWorkerAnalyst, workersFor } from '../workerAnalyst.ts';
import { workerScript } from '../workerScript.ts';
import { readBeside } from './beside.ts';
import { columns } from './columns.ts';
import type { CommandAnswer } from './command.ts';
import { readBytes } from './files.ts';
import { readingJson } from './readingJson.ts';
import { readingText } from './readingText.ts';
import { type RefusedInput, refusedInput } from './refusedInput.ts';
import { wrapped } from './wrapped.ts';

export interface ManyOptions {
  /** One description for all photos; where it is left out, each photo has its own beside it. */
  readonly strip?: Strip;
  readonly target?: Target | 'marked-swatch';
  readonly seed?: number;
  readonly timerStepSeconds?: number;
  /** Photos at a time; as many as cores and memory allow when left out. */
  readonly lanes?: number;
  /** The built worker; null to read one photo after another in this thread. Found by itself when left out. */
  readonly script?: URL | null;
}

type Outcome =
  | { readonly photo: string; readonly reading: Reading }
  | { readonly photo: string; readonly error: RefusedInput };

const TIMEOUT_MS = 120_000;

const summaryRow = (outcome: Outcome): readonly string[] => {
  if ('error' in outcome) return [outcome.photo, '-', 'not read', outcome.error.code];
  const { roundedSeconds, low, high, highOpen, status } = outcome.reading.advice;
  if (roundedSeconds === null || low === null || high === null)
    return [outcome.photo, '-', 'no time', status];
  const interval = highOpen
    ? `${formatClock(Math.round(low))} or longer`
    : `${formatClock(Math.round(low))} to ${formatClock(Math.round(high))}`;
  return [outcome.photo, formatClock(roundedSeconds), interval, status];
};

const textOf = (outcomes: readonly Outcome[]): string => {
  const blocks = outcomes.map((outcome) =>
    [
      wrapped(outcome.photo),
      '-'.repeat(Math.min(80, [...outcome.photo].length)),
      'error' in outcome
        ? `${wrapped(`Not read: ${outcome.error.message}`)}\n`
        : readingText(outcome.reading),
    ].join('\n'),
  );
  const failed = outcomes.filter((o) => 'error' in o).length;
  return [
    ...blocks,
    ...columns(
      [['photo', 'expose', '90 % interval', ''], ...outcomes.map(summaryRow)],
      ['left', 'right', 'left', 'left'],
    ),
    '',
    `${outcomes.length - failed} read, ${failed} not read.`,
    '',
  ].join('\n');
};

/**
 * Reads photos of different strips, each for itself, on all cores. One that can't be read does not stop the others: it
 * is named, and the exit status says that there was one.
 */
export const readMany = async (photos: readonly string[], options: ManyOptions): Promise<CommandAnswer> => {
  const { strip: shared, script = workerScript(), lanes: wanted, ...rest } = options;
  const most = wanted ?? workersFor(availableParallelism(), totalmem());
  const lanes = script ? Math.min(photos.length, most) : 1;
  const analyst = script && createWorkerAnalyst(script, { slots: lanes, waiting: 0, timeoutMs: TIMEOUT_MS });

  const readOne = async (photo: string): Promise<Outcome> => {
    try {
      const about: Awaited<ReturnType<typeof readBeside>> = shared
        ? { strip: shared }
        : await readBeside(photo);
      const task = { kind: 'read', photo: await readBytes(photo), ...about, ...rest } as const;
      return { photo, reading: await (analyst ? analyst.read(task) : performRead(task)) };
    } catch (error) {
      const refused = refusedInput(error);
      if (!refused) throw error;
      return { photo, error: refused };
    }
  };

  // Each lane takes the next photo when it is done with one, so that no more files are in memory than are read.
  const outcomes: Outcome[] = [];
  let next = 0;
  const lane = async (): Promise<void> => {
    while (next < photos.length) {
      const at = next++;
      outcomes[at] = await readOne(photos[at]);
    }
  };
  try {
    await Promise.all(Array.from({ length: lanes }, lane));
  } finally {
    await analyst?.close();
  }

  const failed = outcomes.filter((o) => 'error' in o).length;
  return {
    text: textOf(outcomes),
    json: outcomes.map((o) =>
      'error' in o
        ? { photo: o.photo, error: { code: o.error.code, message: o.error.message } }
        : { photo: o.photo, reading: readingJson(o.reading) },
    ),
    ...(failed > 0 && {
      complaint: `${failed} of ${photos.length} photos could not be read; the answer says why.`,
    }),
  };
};
