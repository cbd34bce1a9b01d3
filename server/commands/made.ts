import { parseTarget } from '../../analysis/advice/target.ts';
import { SKIES } from '../../analysis/plan/sky.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import { type Feedback, judged, type Print, printFields } from '../contracts/recordUse.ts';
import { parsedBy } from '../parsedBy.ts';
import { feedbackOf } from '../record/feedback.ts';
import { keepPrint, listPrints, onePrint, sayReached } from '../record/prints.ts';
import { momentOf, namedBatch, namedUse } from './bookWords.ts';
import { columns } from './columns.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, numberOf, parseWords, secondsOf } from './options.ts';
import { fullPrintId, fullReadingId } from './rowId.ts';
import { withBook } from './withBook.ts';
import { wrapped } from './wrapped.ts';

const form = /^(?:L\s*=\s*)?(\d*[.,]?\d+)\s*(?:(?:±|\+\/-|\+-)\s*(\d*[.,]?\d+))?$/i;
const numberFrom = (text: string) => Number(text.replace(',', '.'));

/** "L=45.2", "45.2±0.6". @throws CommandError `usage`. */
const reachedOf = (text: string | undefined) => {
  if (text === undefined) return { reachedL: null, reachedUL: null };
  const match = form.exec(text.trim());
  const L = match ? numberFrom(match[1]) : Number.NaN;
  const u = match?.[2] === undefined ? null : numberFrom(match[2]);
  if (!(L >= 0 && L <= 100) || u === 0)
    throw new CommandError(
      'usage',
      `--reached "${text}" is not understood. Write an L* like "45.2" or "45.2±0.6"`,
    );
  return { reachedL: L, reachedUL: u };
};

const depth = (percent: number | null): string => (percent === null ? '' : `${percent.toFixed(0)} %`);
const lightness = (L: number | null): string => (L === null ? '' : L.toFixed(1));
const stops = (value: number | null): string =>
  value === null ? '' : `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(2)} stop`;

const MOST_SHOWN = 20;

const listText = (prints: readonly Print[], total: number, { sentence }: Feedback): string => {
  const table = columns(
    [
      ['id', 'exposed', 'time', 'predicted', 'reached', 'missed by', 'print'],
      ...prints.map((print) => [
        print.id.slice(0, 8),
        print.exposedAt.slice(0, 10),
        formatClock(print.secondsUsed),
        `${lightness(print.predictedL)} ${depth(print.predictedDepthPercent)}`,
        print.reachedL === null
          ? (print.judged ?? '–')
          : `${lightness(print.reachedL)} ${depth(print.reachedDepthPercent)}`,
        stops(print.missedStops),
        print.name,
      ]),
    ],
    ['left', 'left', 'right', 'right', 'right', 'right', 'left'],
  );
  const open = prints.some(({ reachedL, judged }) => reachedL === null && judged === null);
  return `${[
    ...(prints.length > 0 ? [...table, ''] : []),
    ...(total > prints.length ? [`The newest ${prints.length} of ${total} prints.`] : []),
    wrapped(sentence),
    ...(open ? [wrapped('Once it is dry: tonestep made ID --reached L, or --judged HOW.')] : []),
  ].join('\n')}\n`;
};

const JUDGED = {
  paler: 'paler than promised',
  right: 'as promised',
  deeper: 'deeper than promised',
} as const;

/** Why no stops are said of what was held against a curve. */
const untold = ({ reachedDepthPercent }: Print): string =>
  reachedDepthPercent === null
    ? ''
    : `That is too ${reachedDepthPercent < 50 ? 'pale' : 'deep'} to say by how many stops: the curve is nearly flat there.`;

const printSentence = (print: Print): string => {
  const predicted =
    print.predictedL === null
      ? 'The book has no calibration that predicts it.'
      : `Predicted for ${formatClock(print.secondsUsed)}: L* ${lightness(print.predictedL)}, ${depth(print.predictedDepthPercent)} depth.`;
  const seen = print.judged === null ? '' : `By eye: ${JUDGED[print.judged]}.`;
  const reached =
    print.reachedL === null
      ? seen || 'Not said yet what it reached.'
      : `Reached: L* ${lightness(print.reachedL)}${print.reachedDepthPercent === null ? '' : `, ${depth(print.reachedDepthPercent)} depth`}.`;
  const missed =
    print.missedStops === null
      ? untold(print)
      : `It came out as after ${Math.abs(print.missedStops).toFixed(2)} stop ${print.missedStops < 0 ? 'less' : 'more'} light.`;
  return [predicted, reached, missed].filter(Boolean).join(' ');
};

/** What can be said of a print that is kept already. */
const ON_ONE = ['reached', 'judged', 'take-back', 'json'];

/** What `made ID` says of a print; null where it only asks for it. */
const saidOf = (
  values: Readonly<Record<string, string | boolean | undefined>>,
  reached: ReturnType<typeof reachedOf>,
  judgedAs: Print['judged'],
) => {
  const other = Object.keys(values).find((name) => values[name] !== undefined && !ON_ONE.includes(name));
  if (other !== undefined)
    throw new CommandError(
      'usage',
      `--${other} belongs to a new print. Of one that is kept, say --reached L, --judged HOW or --take-back`,
    );
  const said = reached.reachedL !== null || judgedAs !== null;
  if (values['take-back'] && said)
    throw new CommandError('usage', '--take-back does not go with --reached or --judged');
  return said || values['take-back'] ? { ...reached, judged: judgedAs } : null;
};

/** `tonestep made`: prints made, how they came out, and whether predictions hold. */
export const made: Command = {
  name: 'made',
  usage: [
    '--time TIME [--reached L | --judged HOW] [--dye NAME] [--cloth NAME] [--light NAME] [--name NAME] …',
    'ID [--reached L | --judged HOW | --take-back]',
    '[--dye NAME] [--cloth NAME] [--light NAME]',
  ],
  summary: 'keeps a print that was made, says later how it came out, and shows predicted against reached',
  options: [
    ['ID', 'one that is kept: the beginning of its id, or "latest"'],
    ['--time TIME', 'how long the print was exposed'],
    ['--reached L', 'its L* once dry: "45.2" or "45.2±0.6"'],
    ['--judged HOW', 'or how it came out by eye, against what was promised: paler, right or deeper'],
    ['--reading ID', 'or the kept reading of it'],
    ['--take-back', 'with ID: what was said of how it came out'],
    ['--dye NAME', 'may be left out where the book has only one; likewise --cloth and --light'],
    ['--cloth NAME', 'the cloth'],
    ['--light NAME', 'the light'],
    ['--name NAME', 'what the print is'],
    ['--target TARGET', 'the depth that was wanted'],
    ['--batch NAME', 'the batch of sensitiser'],
    ['--lamp-hours N', "what the lamps' hour meter showed"],
    ['--sky SKY', 'for the sun: clear, scattered, broken or overcast'],
    ['--exposed DAY', 'when it was exposed; now when left out'],
    ['--remark TEXT', 'your own words'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      time: { type: 'string' },
      reached: { type: 'string' },
      judged: { type: 'string' },
      reading: { type: 'string' },
      'take-back': { type: 'boolean' },
      dye: { type: 'string' },
      cloth: { type: 'string' },
      light: { type: 'string' },
      name: { type: 'string' },
      target: { type: 'string' },
      batch: { type: 'string' },
      'lamp-hours': { type: 'string' },
      sky: { type: 'string' },
      exposed: { type: 'string' },
      remark: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length > 1) throw new CommandError('usage', 'Name one print at a time');
    const secondsUsed = secondsOf('time', values.time);
    const reached = reachedOf(values.reached);
    const bySight = choiceOf('judged', values.judged, judged.options) ?? null;
    if (positionals.length === 1) {
      const said = saidOf(values, reached, bySight);
      return withBook(async (desk) => {
        const id = await fullPrintId(desk, positionals[0]);
        const print = said ? await sayReached(desk, id, said) : await onePrint(desk, id);
        return { text: `${wrapped(printSentence(print))}\n`, json: print };
      });
    }
    if (values['take-back'])
      throw new CommandError('usage', '--take-back needs the id of a print before it, or "latest"');
    if (
      secondsUsed === undefined &&
      (values.reached ?? values.judged ?? values.reading ?? values.name) !== undefined
    )
      throw new CommandError(
        'usage',
        'A print needs --time, how long it was exposed; one that is kept already, its id',
      );
    const exposedAt = momentOf('exposed', values.exposed);
    const target = values.target === undefined ? undefined : parseTarget(values.target);
    return withBook(async (desk) => {
      if (secondsUsed === undefined) {
        const { dye, cloth, light } = values;
        const some = dye !== undefined || cloth !== undefined || light !== undefined;
        const use = some ? await namedUse(desk, values) : null;
        const only = use ? { dyeId: use.dye.id, clothId: use.cloth.id, lightId: use.light.id } : {};
        const answer = await feedbackOf(desk, only);
        const { prints, total } = await listPrints(desk, {
          ...only,
          away: false,
          limit: MOST_SHOWN,
          offset: 0,
        });
        return { text: listText(prints, total, answer), json: { ...answer, newest: prints, total } };
      }
      const { dye, cloth, light } = await namedUse(desk, values);
      const print = await keepPrint(
        desk,
        parsedBy(printFields, {
          ...(values.name !== undefined && { name: values.name }),
          dyeId: dye.id,
          clothId: cloth.id,
          lightId: light.id,
          batchId: (await namedBatch(desk, values.batch))?.id ?? null,
          lampHours: numberOf('lamp-hours', values['lamp-hours'], 0) ?? null,
          sky: choiceOf('sky', values.sky, SKIES) ?? null,
          ...(exposedAt && { exposedAt }),
          secondsUsed,
          ...(target && { target }),
          ...reached,
          judged: bySight,
          readingId: values.reading === undefined ? null : await fullReadingId(desk, values.reading),
          remark: values.remark ?? '',
        }),
      );
      return { text: `${wrapped(printSentence(print))}\n`, json: print };
    });
  },
};
