import { driftOf } from '../across/drifting.ts';
import { type Command, CommandError } from './command.ts';
import { isRecordFile, type NotedControl, notedReading, parseRecords } from './controlRecords.ts';
import { driftText } from './driftText.ts';
import { readJson } from './files.ts';
import { parseWords } from './options.ts';
import { parseStoredReading, readStoredReading, type StoredReading } from './storedReading.ts';

interface Controls {
  readonly noted: readonly NotedControl[];
  /** The readings that the notes come from, where they do. */
  readonly readings: readonly StoredReading[];
}

/** One notebook, or readings in the order of their making. */
const controlsFrom = async (paths: readonly string[]): Promise<Controls> => {
  const files = await Promise.all(
    paths.map(async (path) => ({ path, json: await readJson(path, 'file-invalid') })),
  );
  if (files.length === 1 && isRecordFile(files[0].json))
    return { noted: parseRecords(files[0].path, files[0].json), readings: [] };
  const notebook = files.find(({ json }) => isRecordFile(json));
  if (notebook)
    throw new CommandError('usage', `${notebook.path} is a file of records: give it alone, without readings`);
  const readings = files.map(({ path, json }) => parseStoredReading(path, json));
  return { noted: readings.map(notedReading), readings };
};

/** `tonestep drift`: has the light changed since the baseline? */
export const drift: Command = {
  name: 'drift',
  usage: ['RECORDS.json [--curve READING.json]', '--curve READING.json CONTROL.json CONTROL.json …'],
  summary: 'charts control scraps over time: is the light steady, drifting or did one scrap jump?',
  options: [
    ['RECORDS.json', '{"records": [{"date", "setup", "lampHours", "shiftStops" or "scraps"}]}'],
    ['CONTROL.json', 'readings of control scraps, in the order of their making, in place of records'],
    [
      '--curve FILE',
      'the reading that control scraps are held against; not needed where records have shifts',
    ],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      curve: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length === 0)
      throw new CommandError('usage', 'Name a file of records, or readings of control scraps');
    const stored = values.curve === undefined ? null : await readStoredReading(values.curve);
    const { noted, readings } = await controlsFrom(positionals);
    const answer = driftOf(noted, readings, stored);
    return { text: driftText(answer), json: answer };
  },
};
