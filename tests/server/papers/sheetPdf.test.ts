import jsqr from 'jsqr';
import { beforeAll, describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../../analysis/plan/cautions.ts';
import { CODE_AREA, fieldOn, MARKER_AT, RULER } from '../../../analysis/sheet/layout.ts';
import { germanCautions } from '../../../analysis/words/germanCautions.ts';
import type { PrintedPage } from '../../../fixtures/paper.ts';
import { type SheetContent, sheetPdf } from '../../../server/papers/sheetPdf.ts';
import { hasPdftoppm, printedSheet } from '../../helpers/printedSheet.ts';
import { type Pdf, readPdf } from './readPdf.ts';

const content: SheetContent = {
  paper: 'a4',
  plan: '0b8f6c3e-7d64-4c1e-9d8a-3a5b6c7d8e9f',
  name: 'Harbour festival',
  dye: 'Färberwaid 青',
  cloth: 'λινό, кисея',
  light: 'tubes',
  seconds: [0, 30, 60, 120],
};

describe('the measuring sheet, as pdf.js reads it', () => {
  let bytes: Uint8Array;
  let pdf: Pdf;
  beforeAll(async () => {
    bytes = await sheetPdf(content);
    pdf = await readPdf(bytes);
  });

  it('is one page of A4 lying, 297 × 210 mm (ISO 216), or of letter, 279.4 × 215.9 mm', async () => {
    const letter = await readPdf(await sheetPdf({ ...content, paper: 'letter' }));
    const sizes = [pdf, letter].map(({ pages }) =>
      pages.map(({ width, height }) => [(width / 72) * 25.4, (height / 72) * 25.4]),
    );
    expect(sizes[0].length).toBe(1);
    expect(sizes[0][0][0]).toBeCloseTo(297, 2);
    expect(sizes[0][0][1]).toBeCloseTo(210, 2);
    expect(sizes[1][0][0]).toBeCloseTo(279.4, 2);
    expect(sizes[1][0][1]).toBeCloseTo(215.9, 2);
  });

  it('is under 50 kB, drawn in lines, without a picture', () => {
    expect(bytes.length).toBeLessThan(50_000);
    expect(pdf.pages[0].pictures).toBe(0);
    expect(pdf.pages[0].paths).toBeGreaterThan(30);
  });

  it('asks viewers not to scale it', () => {
    expect(new TextDecoder('latin1').decode(bytes)).toMatch(/PrintScaling|ObjStm/);
  });

  it.each(['en', 'de'] as const)('has every caution, whole, in at least 5 pt: %s', async (language) => {
    const { pages, words } = await readPdf(await sheetPdf({ ...content, language }));
    const squeezed = words.replace(/\s+/g, '');
    for (const { key, text } of CAUTIONS)
      expect(squeezed).toContain((language === 'de' ? germanCautions[key] : text).replace(/\s+/g, ''));
    for (const { size } of pages[0].texts) expect(size).toBeGreaterThanOrEqual(5);
  });

  it('is in German where that is asked for, under 50 kB, umlauts and all', async () => {
    const german = await sheetPdf({ ...content, language: 'de', seconds: [0, 30.5, 60] });
    expect(german.length).toBeLessThan(50_000);
    const { words, pages, info } = await readPdf(german);
    expect(pages[0].pictures).toBe(0);
    expect(info.Title).toBe('Messblatt');
    for (const text of [
      'Hierher Streifen oder Reststücke: trocken, flach, ringsum weißes Papier.',
      'Stufen: 0 · 30,5 · 60 s',
      'Tuch',
      'Originalgröße (100 %)',
    ])
      expect(words).toContain(text);
    expect(words).not.toMatch(/\b(the|and|with|card|strip|lamp|step|light)\b/i);
  });

  it.each([
    ['en', 'a4'],
    ['de', 'a4'],
    ['en', 'letter'],
    ['de', 'letter'],
  ] as const)('keeps its words off markers, code and each other: %s on %s', async (language, paper) => {
    const [page] = (await readPdf(await sheetPdf({ ...content, language, paper }))).pages;
    const field = fieldOn(paper);
    const perMm = 72 / 25.4;
    const boxes = page.texts.map(({ text, x, y, width, size }) => ({
      text,
      left: x / perMm - field.x,
      right: (x + width) / perMm - field.x,
      top: (page.height - y - 0.7 * size) / perMm - field.y,
      bottom: (page.height - y) / perMm - field.y,
    }));
    const held = [...MARKER_AT, CODE_AREA].map(({ x, y, width, height }) => ({
      text: 'marker or code',
      left: x,
      right: x + width,
      top: y,
      bottom: y + height,
    }));
    type Box = (typeof boxes)[number];
    const meet = (a: Box, b: Box) =>
      a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
    const clashes = boxes.flatMap((box, i) =>
      [...boxes.slice(i + 1), ...held]
        .filter((other) => meet(box, other))
        .map((other) => `${box.text} × ${other.text}`),
    );
    expect(boxes.length).toBeGreaterThan(12);
    expect(clashes).toEqual([]);
  });

  it('has names in Latin, Greek and Cyrillic letters, and the step times', () => {
    expect(pdf.words).toContain('Färberwaid');
    expect(pdf.words).toContain('λινό, кисея');
    expect(pdf.words).toContain('0 · 30 · 60 · 120 s');
  });

  it('keeps its text within the field and off the edge, long names too', async () => {
    const long = await readPdf(
      await sheetPdf({
        ...content,
        name: 'N'.repeat(80),
        dye: 'D'.repeat(80),
        cloth: 'C'.repeat(80),
        light: 'L'.repeat(80),
        seconds: Array.from({ length: 60 }, (_, i) => 1000 + i),
      }),
    );
    for (const { texts } of [pdf.pages[0], long.pages[0]])
      for (const { x, width, y } of texts) {
        expect(x).toBeGreaterThan(20 * (72 / 25.4));
        expect(x + width).toBeLessThan((297 - 20) * (72 / 25.4));
        expect(y).toBeGreaterThan(10 * (72 / 25.4));
      }
  });

  it('comes out the same for the same content, byte for byte', async () => {
    expect(Buffer.from(await sheetPdf(content)).equals(Buffer.from(bytes))).toBe(true);
  });

  it('leaves the square code out where there is no plan', async () => {
    const without = await readPdf(await sheetPdf({ ...content, plan: null }));
    expect(pdf.pages[0].paths).toBe(without.pages[0].paths + 1);
  });
});

const rendered = await hasPdftoppm();

describe.skipIf(!rendered)(
  'the measuring sheet, as poppler prints it at 300 dots per inch (pdftoppm)',
  () => {
    let page: PrintedPage;
    const perMm = 300 / 25.4;
    beforeAll(async () => {
      page = await printedSheet('a4', content.plan, 300, content);
    });
    const greyAt = (xMm: number, yMm: number): number =>
      page.grey[Math.round(yMm * perMm) * page.widthPx + Math.round(xMm * perMm)];

    it('has a ruler of 100.0 mm, within a fifth of a millimetre', () => {
      const { x, y } = fieldOn('a4');
      // Half way up the long lines at either end.
      const row = Math.round((y + RULER.y - 0.8 * RULER.tallMm) * perMm) * page.widthPx;
      const dark: number[] = [];
      for (let at = Math.round((x + RULER.x - 2) * perMm); at < (x + RULER.x + 103) * perMm; at++)
        if (page.grey[row + at] < 128) dark.push(at);
      // From the left edge of the first line to the left edge of the last: the lines have a width of their own.
      const edges = dark.filter((at, i) => at !== dark[i - 1] + 1);
      const lengthMm = (edges[edges.length - 1] - edges[0]) / perMm;
      expect(Math.abs(lengthMm - 100)).toBeLessThan(0.2);
    });

    it('has black markers of 16 mm with white cells, and white paper in the places', () => {
      const { x, y } = fieldOn('a4');
      expect(greyAt(x + 1, y + 1)).toBeLessThan(20);
      // Second cell of the first row of marker 17 is white.
      expect(greyAt(x + 5, y + 3)).toBeGreaterThan(235);
      expect(greyAt(x + 100, y + 30)).toBe(255);
      expect(greyAt(x + 100, y + 100)).toBe(255);
    });

    it('has a code that jsQR reads', () => {
      const pixels = new Uint8ClampedArray(4 * page.grey.length);
      page.grey.forEach((value, i) => {
        pixels.set([value, value, value, 255], 4 * i);
      });
      // jsQR is CommonJS: its function may come wrapped.
      const read = (typeof jsqr === 'function' ? jsqr : (jsqr as { default: typeof jsqr }).default) as (
        data: Uint8ClampedArray,
        width: number,
        height: number,
      ) => { data: string } | null;
      expect(read(pixels, page.widthPx, page.heightPx)?.data).toBe(
        'TONESTEP:PLAN:0B8F6C3E-7D64-4C1E-9D8A-3A5B6C7D8E9F',
      );
    });
  },
);
