import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import fontkit from '@pdf-lib/fontkit';
import { PDFDocument, type PDFFont, type PDFPage, PrintScaling, rgb } from 'pdf-lib';
import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import {
  type Area,
  CARD_PLACE,
  CAUTION_AREA,
  CLOTH_PLACE,
  CODE_AREA,
  CORNER_LEG_MM,
  fieldOn,
  LABEL_AREA,
  MARKER_AT,
  PAPERS,
  type PaperName,
  RULER,
} from '../../analysis/sheet/layout.ts';
import { MARKER_CELLS, SHEET_MARKERS } from '../../analysis/sheet/markers.ts';
import { planCodeText } from '../../analysis/sheet/planCode.ts';
import type { PaperLanguage } from '../contracts/language.ts';
import { paperWords } from './paperWords.ts';
import { linesOf, printable } from './reportPen.ts';
import { type Cells, codeCells } from './sheetCode.ts';
import type { PaperWords } from './words/shape.ts';

/** What stands on one measuring sheet. */
export interface SheetContent {
  readonly paper: PaperName;
  /** English when left out. */
  readonly language?: PaperLanguage;
  /** Id of the plan, for the square code; null leaves the code out. */
  readonly plan: string | null;
  readonly name?: string;
  readonly dye?: string;
  readonly cloth?: string;
  readonly light?: string;
  /** Step times in rising order. */
  readonly seconds?: readonly number[];
}

const POINTS_PER_MM = 72 / 25.4;
const BLACK = rgb(0, 0, 0);
const THIN_MM = 0.25;
/** Runs of cells overlap by this much, so that no printer draws a hair of white between them. */
const OVERLAP_MM = 0.02;

const files = createRequire(import.meta.url);

/** Draws in millimetres from the upper left corner of the measuring field. */
interface Pen {
  fill(path: string): void;
  line(x1: number, y1: number, x2: number, y2: number): void;
  text(words: string, x: number, baseline: number, sizePt: number): void;
  /** In millimetres. */
  widthOf(words: string, sizePt: number): number;
  /** The words broken into lines no wider than this, in millimetres. */
  lines(words: string, sizePt: number, width: number): readonly string[];
}

const penOn = (page: PDFPage, font: PDFFont, origin: { readonly x: number; readonly y: number }): Pen => {
  const left = (x: number) => (origin.x + x) * POINTS_PER_MM;
  const up = (y: number) => page.getHeight() - (origin.y + y) * POINTS_PER_MM;
  return {
    fill: (path) =>
      page.drawSvgPath(path, {
        x: left(0),
        y: up(0),
        scale: POINTS_PER_MM,
        color: BLACK,
        borderWidth: 0,
      }),
    line: (x1, y1, x2, y2) =>
      page.drawLine({
        start: { x: left(x1), y: up(y1) },
        end: { x: left(x2), y: up(y2) },
        thickness: THIN_MM * POINTS_PER_MM,
        color: BLACK,
      }),
    text: (words, x, baseline, size) =>
      page.drawText(words, { x: left(x), y: up(baseline), size, font, color: BLACK }),
    widthOf: (words, size) => font.widthOfTextAtSize(words, size) / POINTS_PER_MM,
    lines: (words, size, width) => linesOf(words, { font, size }, width * POINTS_PER_MM),
  };
};

const mm = (value: number): string => value.toFixed(3);

const box = ({ x, y, width, height }: Area): string =>
  `M${mm(x)} ${mm(y)}h${mm(width)}v${mm(height)}h${mm(-width)}z`;

/** The black cells of a square pattern as one path, run by run. */
const cellsPath = (cells: Cells, at: Area): string => {
  const side = at.width / cells.length;
  const runs: string[] = [];
  cells.forEach((row, r) => {
    for (let from = 0; from < row.length; from++) {
      if (!row[from]) continue;
      let to = from;
      while (row[to + 1]) to++;
      const below = cells[r + 1]?.slice(from, to + 1).some(Boolean) ? OVERLAP_MM : 0;
      runs.push(
        box({
          x: at.x + from * side,
          y: at.y + r * side,
          width: (to - from + 1) * side,
          height: side + below,
        }),
      );
      from = to;
    }
  });
  return runs.join('');
};

/** A marker with its border: true where black. */
const markerCells = (bits: readonly string[]): boolean[][] => {
  const edge = Array<boolean>(MARKER_CELLS).fill(true);
  return [edge, ...bits.map((row) => [true, ...[...row].map((cell) => cell === '0'), true]), edge];
};

/** A place is drawn by its four corners and the middles of its long sides. */
const drawPlace = (pen: Pen, { x, y, width, height }: Area): void => {
  for (const [cornerX, into] of [
    [x, CORNER_LEG_MM],
    [x + width, -CORNER_LEG_MM],
  ])
    for (const [cornerY, down] of [
      [y, CORNER_LEG_MM],
      [y + height, -CORNER_LEG_MM],
    ]) {
      pen.line(cornerX, cornerY, cornerX + into, cornerY);
      pen.line(cornerX, cornerY, cornerX, cornerY + down);
    }
  for (const side of [y, y + height])
    pen.line(x + width / 2 - CORNER_LEG_MM / 2, side, x + width / 2 + CORNER_LEG_MM / 2, side);
};

/** As much of the text as fits; an ellipsis says that there was more. */
const fitted = (pen: Pen, text: string, sizePt: number, widthMm: number): string => {
  const letters = [...printable(text)];
  if (pen.widthOf(letters.join(''), sizePt) <= widthMm) return letters.join('');
  while (letters.length > 0 && pen.widthOf(`${letters.join('')}…`, sizePt) > widthMm) letters.pop();
  return `${letters.join('')}…`;
};

const LABEL_PT = 7;
const LABEL_PITCH_MM = 5.5;

const drawLabels = (pen: Pen, { sheet, formats }: PaperWords, content: SheetContent): void => {
  const fields = [
    [sheet.fields.dye, content.dye, 56],
    [sheet.fields.cloth, content.cloth, 56],
    [sheet.fields.light, content.light, 56],
    [sheet.fields.date, undefined, 38],
  ] as const;
  const baseline = LABEL_AREA.y + 3;
  let x = LABEL_AREA.x;
  for (const [title, text, room] of fields) {
    pen.text(title, x, baseline, LABEL_PT);
    const from = x + pen.widthOf(`${title} `, LABEL_PT);
    const to = x + room - 4;
    if (text) pen.text(fitted(pen, text, LABEL_PT, to - from), from, baseline, LABEL_PT);
    else pen.line(from, baseline + 0.8, to, baseline + 0.8);
    x += room;
  }
  const second = baseline + LABEL_PITCH_MM;
  const title = content.name ? `${sheet.plan}: ${content.name}` : sheet.plan;
  const shown = fitted(pen, title, LABEL_PT, 60);
  pen.text(shown, LABEL_AREA.x, second, LABEL_PT);
  const from = LABEL_AREA.x + Math.max(60, pen.widthOf(`${shown}  `, LABEL_PT));
  const room = LABEL_AREA.x + LABEL_AREA.width - from;
  if (content.seconds && content.seconds.length > 0) {
    const written = (s: number) => formats.number(s, Number.isInteger(Math.round(s * 10) / 10) ? 0 : 1);
    const times = `${sheet.steps}: ${content.seconds.map(written).join(' · ')} s`;
    pen.text(fitted(pen, times, LABEL_PT, room), from, second, LABEL_PT);
  } else {
    pen.text(sheet.steps, from, second, LABEL_PT);
    pen.line(from + pen.widthOf(`${sheet.steps} `, LABEL_PT), second + 0.8, from + room - 4, second + 0.8);
  }
};

const drawCautions = (pen: Pen, { cautions }: PaperWords): void => {
  const { x, y, width, height } = CAUTION_AREA;
  const set = (sizePt: number) => ({
    sizePt,
    pitch: (1.13 * sizePt) / POINTS_PER_MM,
    lines: CAUTIONS.flatMap(({ key }) => pen.lines(cautions[key], sizePt, width)),
  });
  // As large as the area holds.
  let setting = set(7);
  while (setting.lines.length * setting.pitch > height && setting.sizePt > 5)
    setting = set(setting.sizePt - 0.1);
  setting.lines.forEach((line, i) => {
    pen.text(line, x, y + (i + 0.8) * setting.pitch, setting.sizePt);
  });
};

const drawRuler = (pen: Pen, { sheet }: PaperWords): void => {
  const { x, y, lengthMm, tallMm } = RULER;
  pen.line(x, y, x + lengthMm, y);
  for (let at = 0; at <= lengthMm; at += 5)
    pen.line(x + at, y, x + at, y - (at % 50 === 0 ? tallMm : at % 10 === 0 ? 0.7 * tallMm : 0.4 * tallMm));
  const from = x + lengthMm + 3;
  const room = CAUTION_AREA.x + CAUTION_AREA.width - from;
  pen.text(sheet.ruler, from, y, Math.min(5.6, (5.6 * room) / pen.widthOf(sheet.ruler, 5.6)));
};

/**
 * Makes the measuring sheet: a page to print at actual size and lay card and cloth on, black only and all lines, so
 * that it is sharp on any printer. Same content, same bytes.
 *
 * @returns the PDF, under 50 kB.
 * @throws AnalysisError `plan-invalid` where the plan's id can't stand in the code.
 */
export const sheetPdf = async (content: SheetContent): Promise<Uint8Array> => {
  const words = paperWords(content.language);
  const { sheet } = words;
  const doc = await PDFDocument.create({ updateMetadata: false });
  doc.setTitle(sheet.title);
  doc.setCreator('Tonestep');
  doc.setLanguage(words.language);
  doc.registerFontkit(fontkit);
  const font = await doc.embedFont(
    await readFile(files.resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf')),
    { subset: true },
  );
  // Viewers that fit pages to the paper would shrink it.
  doc.catalog.getOrCreateViewerPreferences().setPrintScaling(PrintScaling.None);
  const { widthMm, heightMm } = PAPERS[content.paper];
  const page = doc.addPage([widthMm * POINTS_PER_MM, heightMm * POINTS_PER_MM]);
  const pen = penOn(page, font, fieldOn(content.paper));

  SHEET_MARKERS.forEach(({ bits }, i) => {
    pen.fill(cellsPath(markerCells(bits), MARKER_AT[i]));
  });
  drawPlace(pen, CARD_PLACE);
  drawPlace(pen, CLOTH_PLACE);
  pen.text(sheet.card, CARD_PLACE.x, 62, 6);
  pen.text(sheet.cloth, CLOTH_PLACE.x + CLOTH_PLACE.width - pen.widthOf(sheet.cloth, 6), 62, 6);
  drawLabels(pen, words, content);
  if (content.plan !== null) pen.fill(cellsPath(codeCells(planCodeText(content.plan)), CODE_AREA));
  drawCautions(pen, words);
  drawRuler(pen, words);
  return doc.save();
};
