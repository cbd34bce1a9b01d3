import { describe, expect, it } from 'vitest';
import { keptApart, onTwoLines } from '../../web/compare/apart.ts';
import { bandAt } from '../../web/compare/bandAt.ts';
import { fitting } from '../../web/compare/fitting.ts';
import { mixedOf } from '../../web/compare/mixed.ts';
import { letterOf, pointOf, SLANTS, STROKES } from '../../web/compare/strokes.ts';

describe('letters at the ends of curves', () => {
  it('that lie 2 px from each other are moved to 14 px, the upper one staying', () => {
    expect(
      keptApart(
        [
          { x: 300, y: 102 },
          { x: 300, y: 100 },
        ],
        13,
        14,
      ),
    ).toEqual([114, 100]);
  });

  it('that lie 40 px apart along the axis stay where they are', () => {
    expect(
      keptApart(
        [
          { x: 260, y: 100 },
          { x: 300, y: 100 },
        ],
        13,
        14,
      ),
    ).toEqual([100, 100]);
  });

  it('of twelve curves that end together are all 14 px or more from each other', () => {
    const ys = [
      ...keptApart(
        Array.from({ length: 12 }, (_, i) => ({ x: 300 + (i % 3), y: 100 + ((i * 5) % 7) })),
        13,
        14,
      ),
    ].sort((a, b) => a - b);
    for (let i = 1; i < ys.length; i++) expect(ys[i] - ys[i - 1]).toBeGreaterThanOrEqual(14 - 1e-9);
  });
});

describe('a name under the curves', () => {
  it('that fits stays on one line', () => {
    expect(onTwoLines('light-set blue · banner hemp', 40)).toEqual(['light-set blue · banner hemp']);
  });

  it('of 45 letters breaks between words at 30', () => {
    expect(onTwoLines('Blueprint on cotton for the sailors’ collars', 30)).toEqual([
      'Blueprint on cotton for the',
      'sailors’ collars',
    ]);
  });

  it('of 400 letters is shortened to two lines of 30, with an ellipsis', () => {
    const [first, second] = onTwoLines('x'.repeat(400), 30);
    expect(first).toHaveLength(30);
    expect(second).toHaveLength(30);
    expect(second.endsWith('…')).toBe(true);
  });
});

describe('the interval of a curve between the times at which it is told', () => {
  const band = [
    { seconds: 10, L: 60, low: 58, high: 62 },
    { seconds: 40, L: 50, low: 46, high: 54 },
  ];

  it('lies half way at 20 s between 10 and 40 s: equal stops are equal steps', () => {
    expect(bandAt(band, 20)).toEqual({ low: 52, high: 58 });
  });

  it('is that of the first time at 10 s and of the last at 40 s', () => {
    expect(bandAt(band, 10)).toMatchObject({ low: 58, high: 62 });
    expect(bandAt(band, 40)).toEqual({ low: 46, high: 54 });
  });

  it('is not guessed before 10 s and past 40 s', () => {
    expect(bandAt(band, 9)).toBeNull();
    expect(bandAt(band, 41)).toBeNull();
  });
});

describe('twelve strips without any colour', () => {
  it('have twelve strokes, slants, letters and points, no two alike', () => {
    const points = STROKES.map((_, i) => JSON.stringify(pointOf(i)));
    for (const signs of [STROKES, SLANTS, STROKES.map((_, i) => letterOf(i)), points])
      expect(new Set<unknown>(signs).size).toBe(12);
  });
});

describe('a long list of strips', () => {
  const strips = [
    { name: 'Weld · silk', detail: 'tubes · exposed 2 Jun 2026' },
    { name: 'Indigo · SILK', detail: 'sun · exposed 3 Jun 2026' },
    { name: 'Indigo · hemp', detail: 'tubes · exposed 3 Jul 2026' },
  ];

  it('is narrowed to those with all words, in any order and case, of name, light and date', () => {
    expect(fitting(strips, 'silk INDIGO')).toEqual([strips[1]]);
    expect(fitting(strips, '  tubes jul ')).toEqual([strips[2]]);
    expect(fitting(strips, 'jun 2026')).toEqual([strips[0], strips[1]]);
  });

  it('is whole without words and empty where nothing fits', () => {
    expect(fitting(strips, ' ')).toEqual(strips);
    expect(fitting(strips, 'madder')).toEqual([]);
  });
});

describe('strips that differ in more than their dye', () => {
  const on = (cloth: string, light: string) => ({ reading: { strip: { cloth, light } } });

  it('are named by what differs: cloth, light, or both', () => {
    expect(mixedOf([on('silk', 'tubes'), on('hemp', 'tubes')])).toEqual(['cloth']);
    expect(mixedOf([on('silk', 'tubes'), on('silk', 'sun')])).toEqual(['light']);
    expect(mixedOf([on('silk', 'tubes'), on('hemp', 'sun')])).toEqual(['cloth', 'light']);
  });

  it('are not where cloth and light are only written otherwise', () => {
    expect(mixedOf([on('Silk ', 'tubes'), on('silk', 'TUBES')])).toEqual([]);
  });
});
