import type { Reading, StepReading } from '../contracts/reading.ts';
import { paperColour } from './reportColour.ts';
import { type Flow, MARGIN } from './reportFlow.ts';
import { FAINT, INK, linesOf, type Pen, SOFT, type TextStyle, type Typefaces } from './reportPen.ts';
import { figure, timeOf } from './reportWords.ts';
import type { PaperWords } from './words/shape.ts';

interface Column {
  readonly head: string;
  /** Right end of the column, as a share of the table's width; left end for text. */
  readonly at: number;
  readonly align: 'left' | 'right';
  readonly bold?: true;
  readonly cell: (step: StepReading, number: number, shortest: number) => string;
}

const columnsIn = (words: PaperWords): readonly Column[] => {
  const { step, time, stops, density, deltaE, verdict } = words.report.table;
  const fig = (value: number | null, digits: number) => figure(words, value, digits);
  return [
    { head: step, at: 0.045, align: 'right', cell: (_, number) => String(number) },
    { head: time, at: 0.165, align: 'right', cell: ({ seconds }) => timeOf(words, seconds) },
    {
      head: stops,
      at: 0.245,
      align: 'right',
      cell: ({ seconds }, _, shortest) => (seconds === 0 ? '–' : fig(Math.log2(seconds / shortest), 2)),
    },
    { head: 'L*', at: 0.32, align: 'right', cell: ({ L }) => fig(L, 1) },
    { head: '± u', at: 0.375, align: 'right', cell: ({ uL }) => fig(uL, 1) },
    { head: 'a*', at: 0.45, align: 'right', cell: ({ a }) => fig(a, 1) },
    { head: 'b*', at: 0.525, align: 'right', cell: ({ b }) => fig(b, 1) },
    { head: density, at: 0.615, align: 'right', cell: (read) => fig(read.density, 2) },
    { head: deltaE, at: 0.745, align: 'right', cell: ({ deltaEToBase }) => fig(deltaEToBase, 1) },
    {
      head: verdict,
      at: 0.785,
      align: 'left',
      bold: true,
      cell: (read) => words.report.verdict[read.verdict],
    },
  ];
};

const SWATCH_AT = 0.062;
const SWATCH_WIDTH = 0.035;
const REASON_AT = 0.114;
const HEAD_HEIGHT = 16;
const LINE = 9.5;
const NOTE_HEIGHT = 13;

const drawColumns = (
  pen: Pen,
  { sans }: Typefaces,
  columns: readonly Column[],
  x: number,
  y: number,
  width: number,
): void => {
  for (const { head, at, align } of columns)
    pen.text(head, x + at * width, y + 8, { font: sans, size: 7, colour: SOFT, align });
  pen.line(x, y + HEAD_HEIGHT - 3, x + width, y + HEAD_HEIGHT - 3, { width: 0.8, colour: INK });
};

/** Every step: a row of numbers, and under it the reason for the verdict. The head is repeated on each page. */
export const drawTable = (flow: Flow, { steps }: Reading): void => {
  const { words, faces, inner, soft, pen, y, down, room } = flow;
  const columns = columnsIn(words);
  const { sans, bold } = faces;
  const shortest = steps.find((step) => step.seconds > 0)?.seconds ?? 1;
  const first = steps[0]?.seconds === 0 ? 0 : 1;
  const small: TextStyle = { ...soft, size: 7 };
  const reasons = steps.map((step) =>
    linesOf(words.said(step.phrase) ?? step.reason, small, (1 - REASON_AT) * inner),
  );
  const heightOf = (i: number) => 16 + LINE * reasons[i].length;
  const head = () => {
    drawColumns(pen(), faces, columns, MARGIN, y(), inner);
    down(HEAD_HEIGHT);
  };

  room(HEAD_HEIGHT + 6 + (steps.length > 0 ? heightOf(0) : 0) + NOTE_HEIGHT);
  down(6);
  head();
  steps.forEach((step, i) => {
    const height = heightOf(i);
    if (room(height + (i === steps.length - 1 ? NOTE_HEIGHT : 0))) head();
    for (const { bold: heavy, at, align, cell } of columns)
      pen().text(cell(step, i + first, shortest), MARGIN + at * inner, y() + 9.5, {
        font: heavy ? bold : sans,
        size: 8.5,
        align,
      });
    pen().box(MARGIN + SWATCH_AT * inner, y() + 2, SWATCH_WIDTH * inner, height - 5, paperColour(step));
    reasons[i].forEach((line, k) => {
      pen().text(line, MARGIN + REASON_AT * inner, y() + 19 + LINE * k, small);
    });
    pen().line(MARGIN, y() + height - 1, MARGIN + inner, y() + height - 1, { colour: FAINT, width: 0.4 });
    down(height);
  });
  pen().text(words.report.table.note, MARGIN, y() + 9, small);
  down(NOTE_HEIGHT);
};
