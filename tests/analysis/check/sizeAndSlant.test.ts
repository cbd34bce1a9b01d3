import { describe, expect, it } from 'vitest';
import { nearToFar, obliqueFindings } from '../../../analysis/check/oblique.ts';
import { sizeFindings } from '../../../analysis/check/size.ts';
import type { Marks, Point, Quad } from '../../../analysis/locate/marks.ts';
import { box, grey, paintedPhoto } from '../tiles/paintedPhoto.ts';

/** One card patch and three steps in a row, each `sidePx` wide, gaps of half a side. */
const row = (sidePx: number, place: (p: Point) => Point = (p) => p): Marks => {
  const quad = (i: number): Quad => {
    const left = 20 + 1.5 * sidePx * i;
    const [a, b, c, d] = box(left, 20, left + sidePx, 20 + sidePx);
    return [place(a), place(b), place(c), place(d)];
  };
  const of = { origin: 'hand', confidence: 1 } as const;
  return {
    card: [{ name: 'grey', quad: quad(0), ...of }],
    steps: [0, 30, 60].map((seconds, i) => ({ seconds, quad: quad(i + 1), ...of })),
  };
};

const photoOf = (widthPx: number, heightPx: number) => ({
  ...paintedPhoto(64, 64, () => grey(100)),
  widthPx,
  heightPx,
});

describe('size', () => {
  it('of 48 px across is enough; where it all spans 22 % of the photo, going closer is noted', () => {
    expect(sizeFindings(photoOf(1200, 400), row(48))).toEqual([
      expect.objectContaining({
        code: 'photo-far',
        severity: 'note',
        message: expect.stringContaining('22 %'),
      }),
    ]);
    expect(sizeFindings(photoOf(1200, 100), row(48))).toEqual([]);
  });

  it('of 40 px is too small for card and steps; in a photo that they hardly fill, go closer', () => {
    const findings = sizeFindings(photoOf(4000, 3000), row(40));
    expect(findings.map((f) => [f.code, f.severity, f.where])).toEqual([
      ['card-small', 'retake', 'card patch "grey"'],
      ['steps-small', 'retake', 'the unexposed base'],
    ]);
    for (const { message } of findings) {
      expect(message).toContain('40 px across');
      // 220 of 4000 px.
      expect(message).toContain('only 6 % of the photo: go closer');
    }
  });

  it('of 40 px in a photo they fill asks for the original file instead', () => {
    const [finding] = sizeFindings(photoOf(300, 225), row(40));
    expect(finding.message).toContain('not a reduced copy');
  });

  it('of a photo saved with 800 × 600 px is noted, 1000 × 750 px not', () => {
    expect(sizeFindings(photoOf(800, 600), row(100))).toEqual([
      expect.objectContaining({ code: 'photo-saved-small', severity: 'note' }),
    ]);
    expect(sizeFindings(photoOf(1000, 250), row(100))).toEqual([]);
  });
});

describe('a slanting view', () => {
  /** The table seen so that what lies at x px is nearer by 1 + slope·x, up to a common factor. */
  const slanted =
    (slope: number) =>
    ([x, y]: Point): Point => [x / (1 - slope * x), y / (1 - slope * x)];

  it('straight from above is a ratio of 1', () => {
    expect(nearToFar(row(100))).toBeCloseTo(1, 9);
    expect(obliqueFindings(row(100))).toEqual([]);
  });

  it.each([0.0004, 0.0008, 0.0012])(
    'of slope %s per px gives the ratio of nearness at both ends',
    (slope) => {
      // The row runs from x = 20 to 570 on the table; what is nearer looks larger in proportion.
      const wanted = (1 - slope * 20) / (1 - slope * 570);
      expect(nearToFar(row(100, slanted(slope)))).toBeCloseTo(wanted, 6);
    },
  );

  it('of a ratio of 1.6 is noted, of 3 asks for a new photo, with the number', () => {
    const slopeOf = (ratio: number) => (ratio - 1) / (570 * ratio - 20);
    expect(obliqueFindings(row(100, slanted(slopeOf(1.6))))).toEqual([
      expect.objectContaining({
        code: 'photo-oblique',
        severity: 'note',
        message: expect.stringContaining('1.6 times'),
      }),
    ]);
    expect(obliqueFindings(row(100, slanted(slopeOf(3))))).toEqual([
      expect.objectContaining({ severity: 'retake', message: expect.stringContaining('3.0 times') }),
    ]);
  });
});
