import { cgatsText } from '../exchange/cgats.ts';
import { curveCsv } from '../exchange/curveCsv.ts';
import { stepsCsv } from '../exchange/stepsCsv.ts';
import { packageRoot, packageVersion } from '../packageRoot.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, parseWords } from './options.ts';
import { readingSource } from './readingSource.ts';
import { wrapped } from './wrapped.ts';
import { writeBytes } from './writeBytes.ts';

const KINDS = ['steps', 'curve', 'cgats'] as const;

/** `tonestep table`: a reading's numbers for a spreadsheet or a colour program. */
export const table: Command = {
  name: 'table',
  usage: ['READING.json | ID | latest [--as steps|curve|cgats] [--white D65|D50] [--out FILE]'],
  summary: "gives a reading's numbers to other programs: steps or curve as CSV, measurements as CGATS.17",
  options: [
    ['READING', 'a file of "tonestep read … --json", or a reading of the book by its id'],
    [
      '--as KIND',
      '"steps" (when left out) or "curve", as CSV for a spreadsheet; "cgats" for a colour program',
    ],
    ['--white WHITE', 'with cgats: D65 (when left out), or D50 as printing has it'],
    ['--out FILE', 'where it goes; printed when left out'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      as: { type: 'string' },
      white: { type: 'string' },
      out: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name one reading');
    const kind = choiceOf('as', values.as, KINDS) ?? 'steps';
    if (values.white !== undefined && kind !== 'cgats')
      throw new CommandError('usage', '--white goes with --as cgats');
    const white = choiceOf('white', values.white, ['d65', 'd50'] as const) === 'd50' ? 'D50' : 'D65';
    const { reading } = await readingSource(positionals[0]);
    const text =
      kind === 'steps'
        ? stepsCsv(reading)
        : kind === 'curve'
          ? curveCsv(reading)
          : cgatsText(reading, {
              created: new Date().toISOString().slice(0, 10),
              originator: `Tonestep ${packageVersion(packageRoot(import.meta.url))}`,
              white,
            });
    if (text === null)
      throw new CommandError(
        'file-invalid',
        `${positionals[0]} has no curve${reading.curve.kind === 'fitted' ? '' : `: ${reading.curve.message}`}`,
      );
    if (values.out === undefined) return { text: text.replace(/^\uFEFF/, ''), json: { kind, text } };
    const bytes = new TextEncoder().encode(text);
    await writeBytes(values.out, bytes);
    return {
      text: `${wrapped(`Wrote ${values.out}.`)}\n`,
      json: { kind, file: values.out, bytes: bytes.length },
    };
  },
};
