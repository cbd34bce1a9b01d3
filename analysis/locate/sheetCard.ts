import type { Card } from '../level/card.ts';
import type { CardFit } from './cardGrid.ts';
import { cardDoubts, type Doubt } from './confidence.ts';
import { type FoundCard, findCard } from './findCard.ts';
import { type FlatQuad, flatQuads } from './flatQuads.ts';
import type { Quad } from './marks.ts';
import type { ToneField } from './toneField.ts';

/** The card's patches in pixels of the view, and what speaks against them. */
export interface SheetCard {
  readonly patches: readonly { readonly name: string; readonly quad: Quad }[];
  readonly doubts: readonly Doubt[];
}

/** Paper reflects about this much; the camera's curve stretches or squeezes what lies below it. */
const PAPER_Y = 0.84;
const LEAST_SIDE_MM = 12;

/** Where does the card lie in this view, in which bare paper is 0? */
export const cardOn = (field: ToneField, card: Card, pxPerMm: number): SheetCard | null => {
  const quads = flatQuads(field);
  if (card.patches.length === 1) return greyOn(quads, card, pxPerMm);
  const found: FoundCard | undefined = findCard(field, quads, card, undefined, (fit) =>
    againstPaperMisfit(fit, card),
  );
  return found ? { patches: found.patches, doubts: cardDoubts(found) } : null;
};

/** How much darker than paper a patch of this reflectance looks, ln, and how far the camera's curve may take it from there. */
const beneathPaper = (Y: number): { readonly expected: number; readonly give: number } => {
  const expected = Math.log((Y + 0.02) / PAPER_Y);
  return { expected, give: 0.15 + 0.22 * Math.abs(expected) };
};

/** Darker patches say little: the camera's curve and stray light take them anywhere. */
const LEAST_Y = 0.15;
/** A scale of greys laid one patch too far fits as well by itself: how light its patches are beside paper tells. */
const PAPER_SHARE = 0.4;

const againstPaperMisfit = (fit: CardFit, card: Card): number => {
  const known = new Map(card.patches.map(({ name, Y }) => [name, Y]));
  const squares = fit.patches.flatMap(({ name, tone }) => {
    const Y = known.get(name) ?? 0;
    if (Y < LEAST_Y) return [];
    const { expected, give } = beneathPaper(Y);
    return [Math.min(9, ((tone.light - expected) / give) ** 2)];
  });
  return squares.length === 0 ? 0 : (PAPER_SHARE * squares.reduce((a, b) => a + b, 0)) / squares.length;
};

/** One grey patch: neutral against paper, even, and as much darker than paper as its reflectance says. */
const greyOn = (quads: readonly FlatQuad[], card: Card, pxPerMm: number): SheetCard | null => {
  const [{ name, Y }] = card.patches;
  const { expected, give } = beneathPaper(Y);
  const rated = quads
    .filter(({ sides }) => Math.min(...sides) >= LEAST_SIDE_MM * pxPerMm)
    .map((patch) => {
      const { light, redGreen, blueGreen, spread } = patch.tone;
      const off = (light - expected) / give;
      const misfit =
        off * off +
        (redGreen ** 2 + 0.5 * blueGreen ** 2) / 0.08 ** 2 +
        Math.min(9, (spread / 0.03) ** 2) / 2;
      return { patch, misfit, merit: misfit - 1.2 * Math.log(patch.areaPx) };
    })
    .filter(({ misfit }) => misfit < 9)
    .sort((a, b) => a.merit - b.merit);
  const [best] = rated;
  if (!best) return null;
  const { patch, misfit } = best;
  const rival = rated.find(
    (r) =>
      Math.hypot(r.patch.centre[0] - patch.centre[0], r.patch.centre[1] - patch.centre[1]) >
      0.4 * Math.min(...patch.sides),
  );
  return {
    patches: [{ name, quad: patch.quad }],
    doubts: [
      {
        weight: 0.1 * Math.max(0, misfit - 1.5),
        phrase: 'the grey patch is not as neutral, even or dark as it should be',
      },
      {
        weight: rival ? 1.5 * Math.exp(-(rival.merit - best.merit) / 1.5) : 0,
        phrase: 'something else in the photo could be the card as well',
      },
    ],
  };
};
