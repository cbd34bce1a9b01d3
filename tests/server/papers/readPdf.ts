import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** A piece of text as it lies on a page, in points from the lower left corner. */
export interface PdfText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly size: number;
}

export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly PdfText[];
  /** How many pictures are painted. */
  readonly pictures: number;
  /** How many paths are built. */
  readonly paths: number;
}

export interface Pdf {
  readonly pages: readonly PdfPage[];
  readonly info: Readonly<Record<string, unknown>>;
  /** All text in reading order, one blank between pieces. */
  readonly words: string;
}

/** Reads a PDF with pdf.js, which shares no code with what wrote it. */
export const readPdf = async (bytes: Uint8Array): Promise<Pdf> => {
  const doc = await getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise;
  const pages: PdfPage[] = [];
  for (let i = 1; i <= doc.numPages; i++) {
    const page = await doc.getPage(i);
    const [, , width, height] = page.view;
    const { items } = await page.getTextContent();
    const { fnArray } = await page.getOperatorList();
    const count = (...ops: readonly number[]) => fnArray.filter((op) => ops.includes(op)).length;
    pages.push({
      width,
      height,
      texts: items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [
              {
                text: item.str,
                x: item.transform[4],
                y: item.transform[5],
                width: item.width,
                size: item.transform[0],
              },
            ]
          : [],
      ),
      pictures: count(OPS.paintImageXObject),
      paths: count(OPS.constructPath),
    });
  }
  const { info } = await doc.getMetadata();
  await doc.destroy();
  return {
    pages,
    info: info as Record<string, unknown>,
    words: pages
      .flatMap((page) => page.texts.map(({ text }) => text.trim()))
      .join(' ')
      .replace(/\s+/g, ' '),
  };
};
