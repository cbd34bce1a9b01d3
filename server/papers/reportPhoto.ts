import type { PDFImage } from 'pdf-lib';
import type { Quad } from '../contracts/marks.ts';
import type { Reading } from '../contracts/reading.ts';
import { INK, type Pen, type Typefaces, WHITE } from './reportPen.ts';

/** A small upright picture of the photo, and the size of the photo that the marks are told in. */
export interface ReportPhoto {
  readonly jpeg: Uint8Array;
  readonly photoWidthPx: number;
  readonly photoHeightPx: number;
}

const outline = (quad: Quad, place: (x: number, y: number) => readonly [number, number]): string =>
  `${quad
    .map(
      ([x, y], i) =>
        `${i === 0 ? 'M' : 'L'}${place(x, y)
          .map((v) => v.toFixed(2))
          .join(' ')}`,
    )
    .join(' ')} Z`;

const middleOf = (quad: Quad): readonly [number, number] => [
  quad.reduce((sum, [x]) => sum + x, 0) / 4,
  quad.reduce((sum, [, y]) => sum + y, 0) / 4,
];

/** How tall the photo is when it is as wide as this, at most `tallest`; and how wide it is then. */
export const photoSize = (
  { photoWidthPx, photoHeightPx }: ReportPhoto,
  width: number,
  tallest: number,
): { readonly width: number; readonly height: number } => {
  const scale = Math.min(width / photoWidthPx, tallest / photoHeightPx);
  return { width: scale * photoWidthPx, height: scale * photoHeightPx };
};

/** The photo with the areas that were read: steps by their number in the table, card patches dashed. */
export const drawPhoto = (
  pen: Pen,
  { bold }: Typefaces,
  image: PDFImage,
  photo: ReportPhoto,
  reading: Reading,
  at: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): void => {
  const scale = at.width / photo.photoWidthPx;
  const place = (x: number, y: number) => [at.x + scale * x, at.y + scale * y] as const;
  pen.picture(image, at.x, at.y, at.width, at.height);
  const draw = (quad: Quad, dash: readonly number[]) => {
    pen.stroke(outline(quad, place), { colour: INK, width: 1.6 });
    pen.stroke(outline(quad, place), { colour: WHITE, width: 0.7, dash });
  };
  for (const { quad } of reading.marks.card) draw(quad, [1.6, 1.2]);
  if (reading.marks.swatch) draw(reading.marks.swatch.quad, [0.8, 1.6]);
  const first = reading.steps[0]?.seconds === 0 ? 0 : 1;
  reading.marks.steps.forEach(({ quad, seconds }) => {
    draw(quad, []);
    const number = reading.steps.findIndex((step) => step.seconds === seconds) + first;
    const [x, y] = place(...middleOf(quad));
    pen.dot(x, y, 5, WHITE, { width: 0.5 });
    pen.text(String(number), x, y + 2.3, { font: bold, size: 6.5, align: 'middle' });
  });
};
