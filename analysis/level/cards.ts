import type { Card, CardPatch } from './card.ts';

/** Uncertainty of a printed neutral: 1 % of its value and 0.001 of surface shine, whichever way it adds up. */
const printedU = (Y: number): number => Math.hypot(0.01 * Y, 0.001) / Y;

const patch = (name: string, Y: number, relativeU = printedU(Y)): CardPatch => ({ name, Y, relativeU });

/**
 * Neutral row of the 24-patch chart: mean of the editions before and after November 2014, since a photo does not
 * tell which it shows; half their difference goes into the uncertainty. Source: [chart-24].
 */
const CHART_24_NEUTRALS: readonly (readonly [name: string, before: number, after: number])[] = [
  ['19', 0.9131, 0.88069],
  ['20', 0.5894, 0.589971],
  ['21', 0.3632, 0.364865],
  ['22', 0.1915, 0.190623],
  ['23', 0.0883, 0.088172],
  ['24', 0.0311, 0.031513],
];

export type CardKind = Exclude<Card['kind'], 'own'>;

/** The cards known by name. `grey-scale` is density 0.05 to 1.85 in steps of 0.20, Y = 10^-D. */
export const KNOWN_CARDS: Readonly<Record<CardKind, Card>> = {
  'grey-18': { kind: 'grey-18', patches: [patch('grey', 0.18)] },
  'white-grey-black': {
    kind: 'white-grey-black',
    patches: [patch('white', 0.9), patch('grey', 0.18), patch('black', 0.035)],
  },
  'grey-scale': {
    kind: 'grey-scale',
    patches: Array.from({ length: 10 }, (_, i) => {
      const density = 0.05 + 0.2 * i;
      return patch(`D${density.toFixed(2)}`, 10 ** -density);
    }),
  },
  'chart-24': {
    kind: 'chart-24',
    patches: CHART_24_NEUTRALS.map(([name, before, after]) => {
      const Y = (before + after) / 2;
      return patch(name, Y, Math.hypot(printedU(Y), (before - after) / 2 / Y));
    }),
  },
};

/** Is this the name of a known card? */
export const isCardKind = (name: string): name is CardKind => Object.hasOwn(KNOWN_CARDS, name);

/** A printer's own patch; its value is taken to be known about as well as a printed neutral's. */
export const ownPatch = (name: string, Y: number): CardPatch => patch(name, Y);
