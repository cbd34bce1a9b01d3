import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import fontkit from '@pdf-lib/fontkit';
import { type Color, type PDFDocument, type PDFFont, type PDFImage, type PDFPage, rgb } from 'pdf-lib';

export interface Typefaces {
  readonly serif: PDFFont;
  readonly sans: PDFFont;
  readonly bold: PDFFont;
}

const files = createRequire(import.meta.url);

/** Embeds the typefaces of the papers; only the letters that are used go into the file. */
export const embedTypefaces = async (doc: PDFDocument): Promise<Typefaces> => {
  doc.registerFontkit(fontkit);
  const embed = async (name: string) =>
    doc.embedFont(await readFile(files.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)), { subset: true });
  return {
    serif: await embed('DejaVuSerif'),
    sans: await embed('DejaVuSansCondensed'),
    bold: await embed('DejaVuSansCondensed-Bold'),
  };
};

// Neutral throughout: the only colours on the paper are those of the cloth.
export const INK = rgb(0.06, 0.06, 0.06);
export const SOFT = rgb(0.36, 0.36, 0.36);
export const FAINT = rgb(0.8, 0.8, 0.8);
export const WHITE = rgb(1, 1, 1);

export interface TextStyle {
  readonly font: PDFFont;
  readonly size: number;
  readonly colour?: Color;
  readonly align?: 'left' | 'middle' | 'right';
}

export interface Stroke {
  readonly colour?: Color;
  readonly width?: number;
  readonly dash?: readonly number[];
}

/** Draws on one page, in points from its upper left corner: down is more. */
export interface Pen {
  readonly text: (text: string, x: number, baseline: number, style: TextStyle) => void;
  readonly line: (x1: number, y1: number, x2: number, y2: number, stroke?: Stroke) => void;
  readonly box: (x: number, y: number, width: number, height: number, fill: Color, opacity?: number) => void;
  readonly dot: (x: number, y: number, radius: number, fill: Color, stroke?: Stroke) => void;
  /** An SVG path. */
  readonly stroke: (path: string, stroke?: Stroke) => void;
  readonly fill: (path: string, fill: Color, opacity?: number) => void;
  readonly picture: (image: PDFImage, x: number, y: number, width: number, height: number) => void;
}

/** What can be printed on one line: no control characters, no half characters. */
export const printable = (text: string): string =>
  text.replace(/\p{Cs}/gu, '\uFFFD').replace(/[\p{Cc}\s]+/gu, ' ');

export const widthOf = (text: string, { font, size }: TextStyle): number =>
  font.widthOfTextAtSize(printable(text), size);

export const penOn = (page: PDFPage): Pen => {
  const height = page.getHeight();
  return {
    text(text, x, baseline, style) {
      const shown = printable(text);
      const share = style.align === 'right' ? 1 : style.align === 'middle' ? 0.5 : 0;
      page.drawText(shown, {
        x: x - share * widthOf(shown, style),
        y: height - baseline,
        font: style.font,
        size: style.size,
        color: style.colour ?? INK,
      });
    },
    line(x1, y1, x2, y2, { colour = INK, width = 0.6, dash = [] } = {}) {
      page.drawLine({
        start: { x: x1, y: height - y1 },
        end: { x: x2, y: height - y2 },
        color: colour,
        thickness: width,
        dashArray: [...dash],
      });
    },
    box(x, y, width, tall, fill, opacity = 1) {
      page.drawRectangle({ x, y: height - y - tall, width, height: tall, color: fill, opacity });
    },
    dot(x, y, radius, fill, { colour = INK, width = 0.6 } = {}) {
      page.drawCircle({
        x,
        y: height - y,
        size: radius,
        color: fill,
        borderColor: colour,
        borderWidth: width,
      });
    },
    stroke(path, { colour = INK, width = 0.6, dash = [] } = {}) {
      page.drawSvgPath(path, {
        x: 0,
        y: height,
        borderColor: colour,
        borderWidth: width,
        borderDashArray: [...dash],
      });
    },
    fill(path, fill, opacity = 1) {
      page.drawSvgPath(path, { x: 0, y: height, color: fill, opacity });
    },
    picture(image, x, y, width, tall) {
      page.drawImage(image, { x, y: height - y - tall, width, height: tall });
    },
  };
};

/** Breaks a text into lines no wider than `width` points; words that are wider themselves are cut. */
export const linesOf = (text: string, style: TextStyle, width: number): readonly string[] => {
  const lines: string[] = [];
  let line = '';
  for (const word of printable(text).trim().split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthOf(longer, style) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const letter of word) {
      if (line !== '' && widthOf(line + letter, style) > width) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
  }
  return [...lines, line];
};

/** At most so many lines of a text; an ellipsis says that there was more. */
export const firstLines = (
  text: string,
  style: TextStyle,
  width: number,
  most: number,
): readonly string[] => {
  const lines = linesOf(text, style, width);
  if (lines.length <= most) return lines;
  let last = lines[most - 1];
  while (last !== '' && widthOf(`${last} …`, style) > width) last = [...last].slice(0, -1).join('');
  return [...lines.slice(0, most - 1), `${last.trimEnd()} …`];
};
