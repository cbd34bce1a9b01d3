import { LANGUAGES } from '../contracts/language.ts';
import { packageRoot, packageVersion } from '../packageRoot.ts';
import { paperWords } from '../papers/paperWords.ts';
import type { PaperSize } from '../papers/reportPdf.ts';
import { performPaper } from '../perform.ts';
import { type Command, CommandError } from './command.ts';
import { readBytes } from './files.ts';
import { choiceOf, parseWords } from './options.ts';
import { readingSource } from './readingSource.ts';
import { wrapped } from './wrapped.ts';
import { writeBytes } from './writeBytes.ts';

const PAPERS: readonly PaperSize[] = ['a4', 'letter'];

/** `tonestep report`: a calibration on paper. */
export const report: Command = {
  name: 'report',
  usage: ['READING.json | ID | latest [--photo PHOTO] [--paper a4|letter] [--language en|de] --out FILE.pdf'],
  summary: 'prints a calibration: time, photo, curve, every step with its reason, how it was read',
  options: [
    ['READING', 'a file of "tonestep read … --json", or a reading of the book by its id'],
    ['--out FILE', 'where the PDF goes'],
    ['--photo PHOTO', "the strip's photo, for a file; the book has its own"],
    ['--paper PAPER', `${PAPERS.join(' or ')}; a4 when left out`],
    ['--language LANGUAGE', `${LANGUAGES.join(' or ')}: the words on the paper; en when left out`],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      out: { type: 'string' },
      photo: { type: 'string' },
      paper: { type: 'string' },
      language: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name one reading');
    if (values.out === undefined)
      throw new CommandError('usage', 'Say where the PDF goes: add --out REPORT.pdf');
    const paper = choiceOf('paper', values.paper, PAPERS) ?? 'a4';
    const language = choiceOf('language', values.language, LANGUAGES) ?? 'en';
    const { reading, photo: kept, remarks } = await readingSource(positionals[0]);
    const photo = values.photo === undefined ? kept : await readBytes(values.photo);
    const report = {
      reading,
      paper,
      language,
      made: new Date().toISOString(),
      program: `Tonestep ${packageVersion(packageRoot(import.meta.url))}`,
      remarks: remarks(paperWords(language)),
    };
    const pdf = await performPaper({ kind: 'paper', report, photo });
    await writeBytes(values.out, pdf);
    return {
      text: `${wrapped(`Wrote ${values.out}${photo ? '' : ', without a photo: add --photo PHOTO'}.`)}\n`,
      json: { file: values.out, paper, language, bytes: pdf.byteLength, photo: photo !== null },
    };
  },
};
