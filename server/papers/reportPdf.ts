import { PDFDocument } from 'pdf-lib';
import type { PaperLanguage } from '../contracts/language.ts';
import type { Reading } from '../contracts/reading.ts';
import { paperWords } from './paperWords.ts';
import { BOTTOM, MARGIN, startFlow } from './reportFlow.ts';
import { drawAnswer, drawHead } from './reportHead.ts';
import { drawNotes } from './reportNotes.ts';
import { embedTypefaces, FAINT, penOn, printable } from './reportPen.ts';
import type { ReportPhoto } from './reportPhoto.ts';
import { drawPlot } from './reportPlot.ts';
import { drawTable } from './reportTable.ts';
import { namesOf } from './reportWords.ts';

export type PaperSize = 'a4' | 'letter';

export interface ReportRequest {
  readonly reading: Reading;
  /** Null where there is none to show. */
  readonly photo: ReportPhoto | null;
  readonly paper: PaperSize;
  /** English when left out. */
  readonly language?: PaperLanguage;
  /** Moment at which the report is made, ISO 8601. */
  readonly made: string;
  /** Name and version of this program. */
  readonly program: string;
  /** What is known of the strip beside the reading, in lines under its names: date, batch, remark. */
  readonly remarks?: readonly string[];
}

/** ISO 216 A4 and ANSI Letter, in points of 1/72 inch. */
const PAPERS: Readonly<Record<PaperSize, readonly [number, number]>> = {
  a4: [595.28, 841.89],
  letter: [612, 792],
};

const PLOT_HEIGHT = 202;

/**
 * A calibration on paper: the time to set with its interval, the photo with the areas that were read, the curve, every step
 * with its verdict and reason, how it was read, what to know of it, the next strip, and cautions.
 *
 * Same request, same bytes. Letters that the typefaces lack are printed as boxes.
 *
 * @returns a PDF of one or more pages.
 */
export const reportPdf = async (request: ReportRequest): Promise<Uint8Array> => {
  const { reading, photo, paper, language, made, program, remarks = [] } = request;
  const words = paperWords(language);
  const { report } = words;
  const doc = await PDFDocument.create();
  const faces = await embedTypefaces(doc);
  const flow = startFlow(doc, PAPERS[paper], faces, words);

  drawHead(flow, reading, made, remarks);
  drawAnswer(flow, reading, photo && { image: await doc.embedJpg(photo.jpeg), photo });
  flow.room(PLOT_HEIGHT);
  const area = { x: MARGIN, y: flow.y(), width: flow.inner, height: PLOT_HEIGHT };
  if (drawPlot(flow, reading, area)) flow.down(PLOT_HEIGHT + 8);
  drawTable(flow, reading);
  drawNotes(flow, reading);

  const { width, height } = flow;
  const pages = doc.getPages();
  pages.forEach((page, i) => {
    const foot = penOn(page);
    const line = height - BOTTOM + 14;
    const small = { ...flow.soft, size: 7 };
    foot.line(MARGIN, line, width - MARGIN, line, { colour: FAINT, width: 0.4 });
    foot.text(report.foot, MARGIN, line + 11, small);
    foot.text(report.pageOf(program, reading.methodVersion, i + 1, pages.length), width - MARGIN, line + 11, {
      ...small,
      align: 'right',
    });
  });

  const { title, under } = namesOf(words, reading);
  const moment = new Date(made);
  doc.setTitle(printable([title, under].filter(Boolean).join(' · ')), { showInWindowTitleBar: true });
  doc.setSubject(report.subject);
  doc.setCreator(program);
  doc.setProducer(program);
  doc.setCreationDate(moment);
  doc.setModificationDate(moment);
  doc.setLanguage(words.language);
  return doc.save();
};
