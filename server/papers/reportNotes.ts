import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import type { Reading } from '../contracts/reading.ts';
import { type Flow, MARGIN } from './reportFlow.ts';
import { linesOf } from './reportPen.ts';
import { lacksWords, methodRows, nextStripWords } from './reportWords.ts';

const NAME_WIDTH = 64;
const LEAD = 11.5;

/** What goes with the numbers: the next strip, what stands against the reading, how it was read, and cautions. */
export const drawNotes = (flow: Flow, reading: Reading): void => {
  const { words, inner, body, soft, pen, y, down, room, paragraph, heading } = flow;
  const { report, said } = words;
  const next = nextStripWords(words, reading.advice);
  if (next) {
    heading(report.nextStrip);
    paragraph(next, body, MARGIN, inner, LEAD);
  }
  const known = reading.warnings.filter(({ code }) => code !== 'marks-uncertain');
  const notes = known.map(({ message, phrase }) => said(phrase) ?? message);
  if (report.otherLanguage !== null && lacksWords(words, reading)) notes.push(report.otherLanguage);
  if (notes.length > 0) {
    heading(report.warnings);
    for (const note of notes) {
      paragraph(note, body, MARGIN, inner, LEAD);
      down(3);
    }
  }
  heading(report.how);
  for (const [name, text] of methodRows(words, reading)) {
    const lines = linesOf(text, body, inner - NAME_WIDTH);
    room(LEAD * Math.min(lines.length, 3));
    pen().text(name, MARGIN, y() + LEAD - 3, soft);
    paragraph(text, body, MARGIN + NAME_WIDTH, inner - NAME_WIDTH, LEAD);
    down(2);
  }
  heading(report.takeCare);
  for (const { key } of CAUTIONS) {
    const text = words.cautions[key];
    const style = { ...body, size: 8 };
    room(11 * Math.min(3, linesOf(text, style, inner - 10).length));
    pen().text('–', MARGIN, y() + 8, soft);
    paragraph(text, style, MARGIN + 10, inner - 10, 11);
    down(2);
  }
};
