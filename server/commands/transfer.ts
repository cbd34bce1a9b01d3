import { transferOf } from '../across/transferring.ts';
import { type Command, CommandError } from './command.ts';
import { numberOf, parseWords, wholeNumberOf } from './options.ts';
import { parseScrap } from './scraps.ts';
import { readStoredReading } from './storedReading.ts';
import { targetOf } from './targetOf.ts';
import { transferText } from './transferText.ts';

/** `tonestep transfer`: recorded times under another light, batch or season. */
export const transfer: Command = {
  name: 'transfer',
  usage: [
    '--curve READING.json CONTROL.json … [--target TARGET]',
    '--curve READING.json --scrap "90=45.2±0.6" …',
  ],
  summary: 'restates recorded times for another light, batch or season by a control scrap',
  options: [
    ['--curve FILE', 'the reading whose times are to be restated'],
    ['CONTROL.json', 'a reading of control scraps made under the new light: one or two steps will do'],
    [
      '--scrap "TIME=L±u"',
      'a control scrap read elsewhere: its time, L* and one standard uncertainty; may be repeated',
    ],
    ['--target TARGET', '"L=45", "depth=80%", "full"; the reading\'s own when left out'],
    ['--timer-step SECONDS', 'smallest change of your timer'],
    ['--seed N', 'seed of the interval, 1 when left out'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      curve: { type: 'string' },
      scrap: { type: 'string', multiple: true },
      target: { type: 'string' },
      'timer-step': { type: 'string' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (values.curve === undefined)
      throw new CommandError('usage', 'The recorded reading is missing: add --curve READING.json');
    const typed = (values.scrap ?? []).map(parseScrap);
    const timerStepSeconds = numberOf('timer-step', values['timer-step'], 0.01);
    const seed = wholeNumberOf('seed', values.seed, 0);
    if (positionals.length + typed.length === 0)
      throw new CommandError('usage', 'Name a control reading, or add --scrap "90=45.2±0.6"');
    const stored = await readStoredReading(values.curve);
    const controls = await Promise.all(positionals.map(readStoredReading));
    const answer = transferOf(
      {
        scraps: typed,
        target: targetOf(values.target, stored),
        ...(timerStepSeconds === undefined ? {} : { timerStepSeconds }),
        ...(seed === undefined ? {} : { seed }),
      },
      stored,
      controls,
    );
    return { text: transferText(answer, stored.reading.strip), json: answer };
  },
};
