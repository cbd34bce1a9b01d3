import type { PDFDocument } from 'pdf-lib';
import { linesOf, type Pen, penOn, SOFT, type TextStyle, type Typefaces } from './reportPen.ts';
import type { PaperWords } from './words/shape.ts';

export const MARGIN = 46;
export const BOTTOM = 52;
const TOP = 44;

/** Where the next thing goes on the paper; things that do not fit begin a new page. */
export interface Flow {
  readonly words: PaperWords;
  readonly faces: Typefaces;
  readonly width: number;
  readonly height: number;
  /** Width between the margins. */
  readonly inner: number;
  /** Plain text, and the same in grey. */
  readonly body: TextStyle;
  readonly soft: TextStyle;
  readonly pen: () => Pen;
  readonly y: () => number;
  readonly down: (points: number) => void;
  readonly to: (y: number) => void;
  /** Begins a new page where so much does not fit on this one; says whether it did. */
  readonly room: (points: number) => boolean;
  readonly paragraph: (text: string, style: TextStyle, x: number, width: number, lead: number) => void;
  readonly heading: (text: string) => void;
}

export const startFlow = (
  doc: PDFDocument,
  [width, height]: readonly [number, number],
  faces: Typefaces,
  words: PaperWords,
): Flow => {
  const { serif, sans } = faces;
  let pen = penOn(doc.addPage([width, height]));
  let y = TOP;
  const room = (points: number): boolean => {
    if (y + points <= height - BOTTOM) return false;
    pen = penOn(doc.addPage([width, height]));
    y = TOP;
    return true;
  };
  return {
    words,
    faces,
    width,
    height,
    inner: width - 2 * MARGIN,
    body: { font: sans, size: 8.5 },
    soft: { font: sans, size: 8.5, colour: SOFT },
    pen: () => pen,
    y: () => y,
    down(points) {
      y += points;
    },
    to(place) {
      y = place;
    },
    room,
    paragraph(text, style, x, wide, lead) {
      for (const line of linesOf(text, style, wide)) {
        room(lead);
        pen.text(line, x, y + lead - 3, style);
        y += lead;
      }
    },
    heading(text) {
      room(46);
      y += 14;
      pen.text(text, MARGIN, y + 10, { font: serif, size: 11.5 });
      y += 17;
    },
  };
};
