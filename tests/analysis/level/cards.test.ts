import { describe, expect, it } from 'vitest';
import { isCardKind, KNOWN_CARDS, ownPatch } from '../../../analysis/level/cards.ts';
import { numbers, table } from '../../reference/table.ts';

const valuesOf = (kind: keyof typeof KNOWN_CARDS) =>
  KNOWN_CARDS[kind].patches.map(({ name, Y }) => [name, Y]);

describe('known cards', () => {
  it('have 18 % on the single grey; the usual value of a grey card (common practice, no source)', () => {
    expect(valuesOf('grey-18')).toEqual([['grey', 0.18]]);
  });

  it('have Y 0.90, 0.18 and 0.035 on white, grey and black (the values of docs/formats.md)', () => {
    expect(valuesOf('white-grey-black')).toEqual([
      ['white', 0.9],
      ['grey', 0.18],
      ['black', 0.035],
    ]);
  });

  it('have ten greys of density 0.05 to 1.85, 0.20 apart, named by it', () => {
    const names = ['0.05', '0.25', '0.45', '0.65', '0.85', '1.05', '1.25', '1.45', '1.65', '1.85'];
    expect(valuesOf('grey-scale').map(([name]) => name)).toEqual(names.map((d) => `D${d}`));
  });

  // Source: ISO 5-4, D = -log10 Y; a few powers worked out by hand.
  it.each([
    ['D0.05', 0.891251],
    ['D1.05', 0.0891251],
    ['D0.45', 0.354813],
    ['D1.85', 0.0141254],
  ] as const)('have Y = 10^-D on the grey scale: %s is %d', (name, Y) => {
    const patch = KNOWN_CARDS['grey-scale'].patches.find((p) => p.name === name)!;
    expect(patch.Y / Y).toBeCloseTo(1, 5);
  });

  // Source: tests/reference/colorchecker24_neutral_row.csv, see SOURCES.md there.
  it('have on the 24-patch chart’s neutral row the mean of the two published editions, patches 19 to 24', () => {
    const rows = table('colorchecker24_neutral_row.csv');
    expect(rows).toHaveLength(6);
    rows.forEach((row, i) => {
      const [before, after] = numbers(row, 'Y_2005_published', 'Y_after_from_Lab');
      const patch = KNOWN_CARDS['chart-24'].patches[i];
      expect(patch.name).toBe(String(19 + i));
      expect(patch.Y).toBeCloseTo((before + after) / 2, 6);
      // Either edition lies within one and a half standard uncertainties.
      expect(Math.abs(before / patch.Y - 1)).toBeLessThan(1.5 * patch.relativeU);
      expect(Math.abs(after / patch.Y - 1)).toBeLessThan(1.5 * patch.relativeU);
    });
  });

  it('know a printed neutral to 1 % of its value and 0.001: 1.0 % of 0.9, 3.0 % of 0.035', () => {
    const [white, , black] = KNOWN_CARDS['white-grey-black'].patches;
    expect(white.relativeU).toBeCloseTo(Math.hypot(0.01, 0.001 / 0.9), 12);
    expect(black.relativeU).toBeCloseTo(Math.hypot(0.01, 0.001 / 0.035), 12);
    expect(ownPatch('mine', 0.9)).toEqual({ name: 'mine', Y: 0.9, relativeU: white.relativeU });
  });

  it('are five kinds less the printer’s own', () => {
    expect(Object.keys(KNOWN_CARDS).filter(isCardKind)).toHaveLength(4);
    for (const other of ['own', 'chart-25', '', 'toString', '__proto__'])
      expect(isCardKind(other)).toBe(false);
  });
});
