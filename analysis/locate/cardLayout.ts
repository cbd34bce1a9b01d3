import type { Card } from '../level/card.ts';

/** How a patch should look: ln of its luminous reflectance, and its colour on the field's axes. */
export interface PatchLook {
  readonly name: string;
  readonly lnY: number;
  readonly redGreen: number;
  readonly blueGreen: number;
}

/** Patches in rows and columns, row by row. */
export interface CardLayout {
  readonly rows: number;
  readonly columns: number;
  readonly patches: readonly PatchLook[];
}

/** Light added to every patch by the log's offset and by veiling flare, as a share of white. */
const veil = 0.02;

/** In which arrangements may this card lie in the photo? The likeliest first. */
export function cardLayouts(card: Card): CardLayout[] {
  if (card.kind === 'chart-24') return [{ rows: 4, columns: 6, patches: chart24 }];
  const patches = card.patches.map(({ name, Y }) => neutral(name, Y));
  return [{ rows: 1, columns: patches.length, patches }];
}

function neutral(name: string, Y: number): PatchLook {
  return { name, lnY: Math.log(Y + veil), redGreen: 0, blueGreen: 0 };
}

/**
 * Linear sRGB of the 24 colours, to tell which way round the chart lies; never used to measure. Mean of the
 * editions before and after November 2014 [chart-24], brought from D50 to D65 by Bradford.
 */
const chart24: readonly PatchLook[] = [
  [0.173, 0.08, 0.055],
  [0.564, 0.285, 0.215],
  [0.104, 0.192, 0.33],
  [0.104, 0.15, 0.051],
  [0.225, 0.214, 0.431],
  [0.112, 0.511, 0.412],
  [0.747, 0.201, 0.029],
  [0.058, 0.103, 0.395],
  [0.563, 0.082, 0.117],
  [0.11, 0.042, 0.141],
  [0.339, 0.503, 0.046],
  [0.783, 0.359, 0.02],
  [0.019, 0.049, 0.288],
  [0.051, 0.296, 0.065],
  [0.451, 0.033, 0.041],
  [0.85, 0.571, 0.006],
  [0.528, 0.083, 0.298],
  [0.0, 0.24, 0.389],
  [0.896, 0.9, 0.864],
  [0.582, 0.592, 0.589],
  [0.356, 0.366, 0.366],
  [0.19, 0.191, 0.191],
  [0.086, 0.089, 0.091],
  [0.031, 0.031, 0.033],
].map(([r, g, b], i) => ({
  name: String(i + 1),
  lnY: Math.log(0.2126 * r + 0.7152 * g + 0.0722 * b + veil),
  redGreen: Math.log((r + veil) / (g + veil)),
  blueGreen: Math.log((b + veil) / (g + veil)),
}));
