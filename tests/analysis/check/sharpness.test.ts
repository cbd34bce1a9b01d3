import { errorFunction as erf } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { measureSharpness } from '../../../analysis/check/sharpness.ts';
import type { Photo } from '../../../analysis/photo/photo.ts';
import { srgbEncoded } from '../../../analysis/photo/srgb.ts';
import { box, grey, paintedPhoto } from '../tiles/paintedPhoto.ts';

/** Share 0..1 of a border at `far` px, blurred by a Gaussian of standard deviation `blurPx`. */
const border = (far: number, blurPx: number): number => 0.5 * (1 + erf(far / blurPx / Math.SQRT2));

const encoded = Array.from({ length: 4097 }, (_, i) => Math.round(255 * srgbEncoded(i / 4096)));

/** Four light squares of 60 px on dark, each side blurred by its own amount. */
const SQUARES = [
  box(40, 40, 100, 100),
  box(180, 40, 240, 100),
  box(40, 160, 100, 220),
  box(180, 160, 240, 220),
];
const squares = (blurAcross: (square: number) => number, blurDown = blurAcross): Photo =>
  paintedPhoto(300, 260, (x, y) => {
    let light = 0.05;
    SQUARES.forEach(([[left, top], , [right, bottom]], i) => {
      const across = border(x + 0.5 - left, blurAcross(i)) * border(right - x - 0.5, blurAcross(i));
      const down = border(y + 0.5 - top, blurDown(i)) * border(bottom - y - 0.5, blurDown(i));
      light += 0.55 * across * down;
    });
    return grey(encoded[Math.round(4096 * light)]);
  });

describe('blur at the borders of marks', () => {
  it.each([1, 1.5, 2, 3, 4])('of %s px is measured within 0.4 px', (blurPx) => {
    const measured = measureSharpness(
      squares(() => blurPx),
      SQUARES,
    );
    expect(Math.abs(measured!.blurPx - blurPx)).toBeLessThan(0.4);
  });

  it('of 8 px comes out as more than 4 px', () => {
    expect(
      measureSharpness(
        squares(() => 8),
        SQUARES,
      )!.blurPx,
    ).toBeGreaterThan(4);
  });

  it('is that of the sharp card where three of four areas are cloth with soft borders of 6 px', () => {
    const measured = measureSharpness(
      squares((i) => (i === 0 ? 1 : 6)),
      SQUARES,
    );
    expect(Math.abs(measured!.blurPx - 1)).toBeLessThan(0.4);
  });

  it('is that of the worse direction: shaken across by 4 px, sharp down, 4 px', () => {
    const measured = measureSharpness(
      squares(
        () => 4,
        () => 0.7,
      ),
      SQUARES,
    );
    expect(Math.abs(measured!.blurPx / 4 - 1)).toBeLessThan(0.15);
  });

  it('is found with marks that lie 5 px off', () => {
    const off = SQUARES.map(([[left, top], , [right, bottom]]) =>
      box(left + 5, top - 5, right + 5, bottom - 5),
    );
    expect(
      Math.abs(
        measureSharpness(
          squares(() => 2),
          off,
        )!.blurPx /
          2 -
          1,
      ),
    ).toBeLessThan(0.15);
  });

  it('is not guessed where no border stands out', () => {
    const flat = paintedPhoto(300, 260, () => grey(120));
    expect(measureSharpness(flat, SQUARES)).toBeNull();
  });
});
