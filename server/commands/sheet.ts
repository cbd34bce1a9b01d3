import { createHash } from 'node:crypto';
import { z } from 'zod';
import { isPaperName, PAPERS, type PaperName } from '../../analysis/sheet/layout.ts';
import { LANGUAGES } from '../contracts/language.ts';
import { sheetPdf } from '../papers/sheetPdf.ts';
import { type Command, CommandError } from './command.ts';
import { readJson } from './files.ts';
import { choiceOf, parseWords, secondsOf } from './options.ts';
import { wrapped } from './wrapped.ts';
import { writeBytes } from './writeBytes.ts';

/** What `tonestep plan --json` and the record's plans have in common. */
const planFile = z.object({
  id: z.string().optional(),
  name: z.string().optional(),
  steps: z.array(z.object({ seconds: z.number().min(0) })).min(1),
});

/** A plan outside the record is named by its times: the same times, the same name. */
const nameOfTimes = (seconds: readonly number[]): string =>
  createHash('sha256').update(seconds.join(' ')).digest('hex').slice(0, 12);

/** "0, 30, 60, 2 min"; a comma parts two times here, so a decimal has a point. */
const timesOf = (text: string): number[] =>
  text
    .split(/[,;]/)
    .filter((time) => time.trim() !== '')
    .map((time) => secondsOf('times', time.trim()) as number)
    .sort((a, b) => a - b);

/** `tonestep sheet`: the page to print and lay card and cloth on. */
export const sheet: Command = {
  name: 'sheet',
  usage: [
    '[--paper a4|letter] [--language en|de] [--plan PLAN.json | --times "TIME, TIME, …"] --out FILE.pdf',
  ],
  summary:
    'makes the measuring sheet to print: a photo of card and strip on it is read without marking anything',
  options: [
    ['--out FILE', 'where the PDF goes; print it at actual size (100 %)'],
    ['--paper PAPER', `${Object.keys(PAPERS).join(' or ')}; a4 when left out`],
    ['--language LANGUAGE', `${LANGUAGES.join(' or ')}: the words on the sheet; en when left out`],
    ['--plan FILE', 'a plan as "tonestep plan --json" gives it: its times and its code go onto the sheet'],
    ['--times LIST', 'step times instead of a plan: "0, 30, 60, 1:45"'],
    [
      '--id ID',
      'name for the square code: small letters, digits, hyphens; made from the times when left out',
    ],
    ['--name TEXT', 'name of the plan, in words'],
    ['--dye TEXT', 'written onto the sheet; an empty line to write on when left out'],
    ['--cloth TEXT', 'likewise'],
    ['--light TEXT', 'likewise'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      out: { type: 'string' },
      paper: { type: 'string' },
      language: { type: 'string' },
      plan: { type: 'string' },
      times: { type: 'string' },
      id: { type: 'string' },
      name: { type: 'string' },
      dye: { type: 'string' },
      cloth: { type: 'string' },
      light: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length > 0) throw new CommandError('usage', `"${positionals[0]}" is one word too many`);
    if (values.out === undefined)
      throw new CommandError('usage', 'Say where the PDF goes: add --out SHEET.pdf');
    if (values.plan !== undefined && values.times !== undefined)
      throw new CommandError('usage', '--times does not go with --plan, which has its own');
    const paper: PaperName = choiceOf('paper', values.paper, Object.keys(PAPERS).filter(isPaperName)) ?? 'a4';
    const language = choiceOf('language', values.language, LANGUAGES) ?? 'en';
    const plan =
      values.plan === undefined ? null : planFile.safeParse(await readJson(values.plan, 'file-invalid'));
    if (plan && !plan.success)
      throw new CommandError(
        'file-invalid',
        `${values.plan} holds no plan. Make one with "tonestep plan --json > PLAN.json".`,
      );
    const seconds =
      plan?.data.steps.map((s) => s.seconds) ?? (values.times === undefined ? [] : timesOf(values.times));
    const id = values.id ?? plan?.data.id ?? (seconds.length > 0 ? nameOfTimes(seconds) : null);
    const name = values.name ?? plan?.data.name;
    const { dye, cloth, light, out } = values;
    const pdf = await sheetPdf({
      paper,
      language,
      plan: id,
      ...(name !== undefined && { name }),
      ...(dye !== undefined && { dye }),
      ...(cloth !== undefined && { cloth }),
      ...(light !== undefined && { light }),
      ...(seconds.length > 0 && { seconds }),
    });
    await writeBytes(out, pdf);
    const { widthMm, heightMm } = PAPERS[paper];
    const text = [
      `Wrote ${out}: one page, ${widthMm} × ${heightMm} mm${id === null ? '' : `, code of plan ${id}`}.`,
      'Print it at actual size (100 %, no "fit to page") and measure the ruler: 100 mm from end to end.',
      'Lay card and dry cloth flat in their frames and take one photo with the corner markers in it.',
      '',
    ]
      .map((line) => wrapped(line))
      .join('\n');
    return { text, json: { file: out, paper, language, plan: id, bytes: pdf.length } };
  },
};
