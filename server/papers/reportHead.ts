import type { PDFImage } from 'pdf-lib';
import type { Reading } from '../contracts/reading.ts';
import { paperColour } from './reportColour.ts';
import { type Flow, MARGIN } from './reportFlow.ts';
import { firstLines, type TextStyle } from './reportPen.ts';
import { drawPhoto, photoSize, type ReportPhoto } from './reportPhoto.ts';
import { answerInterval, answerTime, namesOf, targetWords } from './reportWords.ts';

const TALLEST_PHOTO = 170;
const MOST_REMARKS = 6;

/** What strip this is: its names, what else is known of it, and the strip itself as a row of its colours. */
export const drawHead = (flow: Flow, reading: Reading, made: string, remarks: readonly string[]): void => {
  const { words, faces, width, inner, soft, pen, y, down } = flow;
  pen().text(words.report.heading, MARGIN, y() + 4, soft);
  pen().text(words.day(made.slice(0, 10)), width - MARGIN, y() + 4, { ...soft, align: 'right' });
  down(14);
  const { title, under } = namesOf(words, reading);
  const lines = (text: string, style: TextStyle, most: number, lead: number) => {
    for (const line of firstLines(text, style, inner, most)) {
      pen().text(line, MARGIN, y() + lead - 4, style);
      down(lead);
    }
  };
  lines(title, { font: faces.serif, size: 23 }, 2, 27);
  down(4);
  if (under !== '') lines(under, { font: faces.sans, size: 10.5 }, 3, 14);
  for (const remark of remarks.slice(0, MOST_REMARKS)) lines(remark, soft, 2, 12);
  down(8);
  const block = inner / Math.max(1, reading.steps.length);
  reading.steps.forEach((step, i) => {
    const gap = i === reading.steps.length - 1 ? 0 : 1.5;
    pen().box(MARGIN + i * block, y(), block - gap, 7, paperColour(step));
  });
  down(22);
};

/** The time to set, how sure it is, and the photo that it was read from. */
export const drawAnswer = (
  flow: Flow,
  reading: Reading,
  picture: { readonly image: PDFImage; readonly photo: ReportPhoto } | null,
): void => {
  const { words, faces, width, inner, body, soft, pen, y, down, paragraph } = flow;
  const { report, said } = words;
  const { advice, warnings } = reading;
  const top = y();
  const size = picture ? photoSize(picture.photo, inner * 0.5, TALLEST_PHOTO) : null;
  if (picture && size)
    drawPhoto(pen(), faces, picture.image, picture.photo, reading, {
      x: width - MARGIN - size.width,
      y: top,
      ...size,
    });
  const left = size ? inner - size.width - 20 : inner;
  pen().text(report.expose, MARGIN, y() + 6, soft);
  down(12);
  pen().text(answerTime(words, advice), MARGIN, y() + 36, { font: faces.serif, size: 42 });
  down(50);
  const interval = answerInterval(words, advice);
  if (interval) paragraph(interval, { font: faces.bold, size: 9.5 }, MARGIN, left, 13);
  paragraph(targetWords(words, advice), { font: faces.sans, size: 9.5 }, MARGIN, left, 13);
  down(6);
  paragraph(words.advice(reading), body, MARGIN, left, 11.5);
  // A doubt about the marks is a doubt about the answer: it stands beside it.
  const doubt = warnings.find(({ code }) => code === 'marks-uncertain');
  if (doubt) {
    down(4);
    paragraph(
      report.checkFirst(said(doubt.phrase) ?? doubt.message),
      { font: faces.bold, size: 8.5 },
      MARGIN,
      left,
      11.5,
    );
  }
  if (size) flow.to(Math.max(y(), top + size.height));
  down(16);
};
