import { expect, test } from 'vitest';
import { KNOWN_CARDS } from '../../../analysis/level/cards.ts';
import { toneMisfit } from '../../../analysis/locate/cardGrid.ts';
import { cardLayouts } from '../../../analysis/locate/cardLayout.ts';
import { findCard } from '../../../analysis/locate/findCard.ts';
import { flatQuads } from '../../../analysis/locate/flatQuads.ts';
import { patchOf, unitSquareTo } from '../../../analysis/locate/homography.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { overlapShare } from '../../../analysis/locate/quadGeometry.ts';
import { fieldOf, grey, painted, rowOfBoxes, turnedBox } from './paintedField.ts';

const threePatches = KNOWN_CARDS['white-grey-black'];

/** A camera's curve over linear light: a power and a little flare. */
const shot = (Y: number, power = 1) => 0.01 + 0.8 * Y ** power;

function cardAt(degrees: number, power: number, mount: number, gap: number) {
  const places = rowOfBoxes([300, 220], 3, 60 + gap, 60, 70, degrees);
  const patches = places.map((quad, i) => ({ quad, colour: grey(shot(threePatches.patches[i].Y, power)) }));
  const board = {
    quad: turnedBox([300, 220], 3 * 60 + 2 * gap + 24, 94, degrees),
    colour: grey(shot(mount, power)),
  };
  return { places, field: fieldOf(painted(600, 440, [0.5, 0.44, 0.36], [board, ...patches])) };
}

test.each([
  [0, 1, 0.3, 6],
  [37, 1, 0.72, 0],
  [90, 0.7, 0.3, 4],
  [180, 1.4, 0.16, 4],
  [-120, 1, 0.05, 0],
])(
  'white, grey and black turned by %i° under a camera power of %f on a mount of Y %f are named right',
  (...given) => {
    const { places, field } = cardAt(...given);
    const card = findCard(field, flatQuads(field), threePatches)!;
    expect(card.patches.map((p) => p.name)).toEqual(['white', 'grey', 'black']);
    card.patches.forEach((p, i) => {
      expect(overlapShare(p.quad, places[i])).toBeGreaterThan(0.8);
    });
  },
);

test.each([6, 0])(
  'a grey patch on a mount as grey as itself is placed between white and black, %i px apart',
  (gap) => {
    const { places, field } = cardAt(8, 1, 0.18, gap);
    const card = findCard(field, flatQuads(field), threePatches)!;
    expect(card.seenShare).toBeCloseTo(2 / 3, 9);
    expect(overlapShare(card.patches[1].quad, places[1])).toBeGreaterThan(0.75);
  },
);

test('a card of 24 patches in perspective is read the right way round, upside down as well', () => {
  const [layout] = cardLayouts(KNOWN_CARDS['chart-24']);
  const seen: Quad = [
    [130, 70],
    [520, 110],
    [480, 380],
    [100, 330],
  ];
  for (const board of [seen, [seen[2], seen[3], seen[0], seen[1]] as Quad]) {
    const h = unitSquareTo(board)!;
    const places = layout.patches.map((_, k) => {
      const [u, v] = [(k % 6) / 6, Math.floor(k / 6) / 4];
      return patchOf(h, u + 0.012, u + 0.155, v + 0.02, v + 0.23);
    });
    const patches = places.map((quad, k) => {
      const { lnY, redGreen, blueGreen } = layout.patches[k];
      // The layout's own axes, taken back to light of a green of 1.
      const green = Math.exp(lnY) / (0.2126 * Math.exp(redGreen) + 0.7152 + 0.0722 * Math.exp(blueGreen));
      return { quad, colour: [green * Math.exp(redGreen), green, green * Math.exp(blueGreen)] as const };
    });
    const field = fieldOf(painted(620, 460, grey(0.6), [{ quad: board, colour: grey(0.035) }, ...patches]));
    const card = findCard(field, flatQuads(field), KNOWN_CARDS['chart-24'])!;
    expect(card.patches.map((p) => p.name)).toEqual(Array.from({ length: 24 }, (_, k) => String(k + 1)));
    card.patches.forEach((p, k) => {
      expect(overlapShare(p.quad, places[k])).toBeGreaterThan(0.7);
    });
    expect(card.rivalMisfit - card.misfit).toBeGreaterThan(5);
  }
});

test('three coloured squares and a grey row in the wrong order are no card', () => {
  const row = (colours: readonly (readonly [number, number, number])[]) => {
    const patches = rowOfBoxes([300, 220], 3, 66, 60, 70, 5).map((quad, i) => ({ quad, colour: colours[i] }));
    const field = fieldOf(painted(600, 440, [0.5, 0.44, 0.36], patches));
    return findCard(field, flatQuads(field), threePatches);
  };
  expect(
    row([
      [0.7, 0.2, 0.1],
      [0.1, 0.5, 0.2],
      [0.05, 0.1, 0.4],
    ]),
  ).toBeUndefined();
  expect(row([grey(0.14), grey(0.75), grey(0.035)])).toBeUndefined();
});

test('tones of the card itself misfit by less than 0.1, with the two ends swapped by 100', () => {
  const looks = cardLayouts(threePatches)[0].patches;
  const tones = looks.map(({ lnY }) => ({ light: lnY, redGreen: 0.05, blueGreen: -0.02, spread: 0.005 }));
  expect(toneMisfit(tones, looks)).toBeLessThan(0.1);
  expect(toneMisfit([...tones].reverse(), looks)).toBe(100);
});
