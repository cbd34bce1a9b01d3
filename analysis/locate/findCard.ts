import type { Card } from '../level/card.ts';
import { type CardFit, fitCardGrid } from './cardGrid.ts';
import { cardLayouts } from './cardLayout.ts';
import type { FlatQuad } from './flatQuads.ts';
import type { Point, Quad } from './marks.ts';
import { convexHull } from './quadFit.ts';
import { containsPoint, quadCentre } from './quadGeometry.ts';
import { medianOf, type Tint } from './sampleTone.ts';
import { fitSinglePatch, type StripLook } from './singlePatch.ts';
import type { ToneField } from './toneField.ts';

/** A card found in the small photo, with what speaks for and against it. */
export interface FoundCard {
  readonly patches: readonly { readonly name: string; readonly quad: Quad }[];
  /** Mean squared misfit per patch; about 1 or less for a good fit. */
  readonly misfit: number;
  /** Misfit of the best card elsewhere in the photo; large where there is none. */
  readonly rivalMisfit: number;
  /** Share of the patches that were seen as areas of their own, 0..1. */
  readonly seenShare: number;
  /** Convex outline of all patches. */
  readonly outline: readonly Point[];
  /** What neutral looks like in this photo. */
  readonly neutral: Tint;
}

const noRival = 100;
/** Worse than this is not shown as a card at all. */
const mostMisfit = 12;

/**
 * Where does a card of two patches or more lie? Undefined where nothing like it is there; with a tap, under it.
 * `further`: what else speaks against a placement, added to its misfit.
 */
export function findCard(
  field: ToneField,
  quads: readonly FlatQuad[],
  card: Card,
  tap?: Point,
  further: (fit: CardFit) => number = () => 0,
): FoundCard | undefined {
  const fits = cardLayouts(card)
    .flatMap((layout) => fitCardGrid(field, quads, layout))
    .map((fit) => ({ ...fit, misfit: fit.misfit + further(fit) }))
    .filter((fit) => !tap || containsPoint(convexHull(fit.patches.flatMap((p) => [...p.quad])), tap))
    .sort((a, b) => a.misfit - b.misfit);
  const best = fits[0];
  if (!best || best.misfit > mostMisfit) return undefined;
  const rival = fits.find((fit) => {
    const same = fit.patches.filter((p, k) => containsPoint(p.quad, quadCentre(best.patches[k].quad))).length;
    return same < 0.7 * best.patches.length;
  });
  const clear = best.patches.map((p) => p.tone).filter((tone) => tone.light > Math.log(0.1));
  const neutrals =
    card.kind === 'chart-24' || clear.length === 0 ? best.patches.slice(-6).map((p) => p.tone) : clear;
  return {
    patches: best.patches.map(({ name, quad }) => ({ name, quad })),
    misfit: best.misfit,
    rivalMisfit: rival?.misfit ?? noRival,
    seenShare: best.seen / best.patches.length,
    outline: convexHull(best.patches.flatMap((p) => [...p.quad])),
    neutral: {
      redGreen: medianOf(neutrals.map((tone) => tone.redGreen)),
      blueGreen: medianOf(neutrals.map((tone) => tone.blueGreen)),
    },
  };
}

/** Where does a card of one patch lie? The strip's look, where known, tells a grey from white and black. */
export function findSinglePatch(
  quads: readonly FlatQuad[],
  card: Card,
  strip: StripLook | undefined,
  tap?: Point,
): FoundCard | undefined {
  const [{ name, Y }] = card.patches;
  const tapped = tap ? quads.filter(({ quad }) => containsPoint(quad, tap)) : quads;
  const [best, ...others] = fitSinglePatch(tapped, Y, strip);
  if (!best || best.misfit > mostMisfit) return undefined;
  const rival = others.find((fit) => !containsPoint(best.patch.quad, fit.patch.centre));
  const { quad, tone } = best.patch;
  return {
    patches: [{ name, quad }],
    misfit: best.misfit,
    rivalMisfit: rival?.misfit ?? noRival,
    seenShare: 1,
    outline: quad,
    neutral: { redGreen: tone.redGreen, blueGreen: tone.blueGreen },
  };
}
