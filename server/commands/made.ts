import { parseTarget } from '../../analysis/advice/target.ts';
import { SKIES } from '../../analysis/plan/sky.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import { type Feedback, judged, type Print, printFields } from '../contracts/recordUse.ts';
import { parsedBy } from '../parsedBy.ts';
import { feedbackOf } from '../record/feedback.ts';
import { keepPrint } from '../record/prints.ts';
import { momentOf, namedBatch, namedUse } from './bookWords.ts';
import { columns } from './columns.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, numberOf, parseWords, secondsOf } from './options.ts';
import { fullReadingId } from './readingId.ts';
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

const feedbackText = ({ prints, sentence }: Feedback): string => {
  const table = columns(
    [
      ['exposed', 'time', 'predicted', 'reached', 'missed by', 'print'],
      ...prints
        .slice(0, MOST_SHOWN)
        .map((print) => [
          print.exposedAt.slice(0, 10),
          formatClock(print.secondsUsed),
          `${lightness(print.predictedL)} ${depth(print.predictedDepthPercent)}`,
          `${lightness(print.reachedL)} ${depth(print.reachedDepthPercent)}`,
          stops(print.missedStops),
          print.name,
        ]),
    ],
    ['left', 'right', 'right', 'right', 'right', 'left'],
  );
  return `${[...(prints.length > 0 ? [...table, ''] : []), wrapped(sentence)].join('\n')}\n`;
};

const JUDGED = {
  paler: 'paler than promised',
  right: 'as promised',
  deeper: 'deeper than promised',
} as const;

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
      ? ''
      : `It came out as after ${Math.abs(print.missedStops).toFixed(2)} stop ${print.missedStops < 0 ? 'less' : 'more'} light.`;
  return [predicted, reached, missed].filter(Boolean).join(' ');
};

/** `tonestep made`: prints made, and whether predictions hold. */
export const made: Command = {
  name: 'made',
  usage: [
    '--time TIME [--reached L | --judged HOW] [--dye NAME] [--cloth NAME] [--light NAME] [--name NAME] …',
    '[--dye NAME] [--cloth NAME] [--light NAME]',
  ],
  summary:
    'keeps a print that was made, predicted against reached depth; without --time shows the bias so far',
  options: [
    ['--time TIME', 'how long the print was exposed'],
    ['--reached L', 'its L* once dry: "45.2" or "45.2±0.6"'],
    ['--judged HOW', 'or how it came out by eye, against what was promised: paler, right or deeper'],
    ['--reading ID', 'or the kept reading of it'],
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
    if (positionals.length > 0) throw new CommandError('usage', `"${positionals[0]}" is not understood here`);
    const secondsUsed = secondsOf('time', values.time);
    const reached = reachedOf(values.reached);
    const bySight = choiceOf('judged', values.judged, judged.options) ?? null;
    if (
      secondsUsed === undefined &&
      (values.reached ?? values.judged ?? values.reading ?? values.name) !== undefined
    )
      throw new CommandError('usage', 'A print needs --time, how long it was exposed');
    const exposedAt = momentOf('exposed', values.exposed);
    const target = values.target === undefined ? undefined : parseTarget(values.target);
    return withBook(async (desk) => {
      if (secondsUsed === undefined) {
        const { dye, cloth, light } = values;
        const some = dye !== undefined || cloth !== undefined || light !== undefined;
        const use = some ? await namedUse(desk, values) : null;
        const answer = await feedbackOf(
          desk,
          use ? { dyeId: use.dye.id, clothId: use.cloth.id, lightId: use.light.id } : {},
        );
        return { text: feedbackText(answer), json: answer };
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
