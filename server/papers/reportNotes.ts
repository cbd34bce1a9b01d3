import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import type { Reading } from '../contracts/reading.ts';
import { type Flow, MARGIN } from './reportFlow.ts';
import { linesOf } from './reportPen.ts';
import { methodRows, nextStripWords } from './reportWords.ts';

const NAME_WIDTH = 64;
const LEAD = 11.5;

/** What goes with the numbers: the next strip, what stands against the reading, how it was read, and cautions. */
export const drawNotes = (flow: Flow, reading: Reading): void => {
  const { inner, body, soft, pen, y, down, room, paragraph, heading } = flow;
  const next = nextStripWords(reading.advice);
  if (next) {
    heading('Next strip');
    paragraph(next, body, MARGIN, inner, LEAD);
  }
  const known = reading.warnings.filter(({ code }) => code !== 'marks-uncertain');
  if (known.length > 0) {
    heading('What to know of this reading');
    for (const { message } of known) {
      paragraph(message, body, MARGIN, inner, LEAD);
      down(3);
    }
  }
  heading('How it was read');
  for (const [name, text] of methodRows(reading)) {
    const lines = linesOf(text, body, inner - NAME_WIDTH);
    room(LEAD * Math.min(lines.length, 3));
    pen().text(name, MARGIN, y() + LEAD - 3, soft);
    paragraph(text, body, MARGIN + NAME_WIDTH, inner - NAME_WIDTH, LEAD);
    down(2);
  }
  heading('Take care');
  for (const { text } of CAUTIONS) {
    const style = { ...body, size: 8 };
    room(11 * Math.min(3, linesOf(text, style, inner - 10).length));
    pen().text('–', MARGIN, y() + 8, soft);
    paragraph(text, style, MARGIN + 10, inner - 10, 11);
    down(2);
  }
};
