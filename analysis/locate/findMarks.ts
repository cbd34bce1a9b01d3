import type { Strip } from '../level/card.ts';
import type { Photo } from '../photo/photo.ts';
import { reduceLinear } from '../photo/reduce.ts';
import { type Phrase, phrase } from '../phrases.ts';
import { cardDoubts, confidenceOf, type Doubt, otherCountOf, stripDoubts, sureFrom } from './confidence.ts';
import { type FoundCard, findCard, findSinglePatch } from './findCard.ts';
import { findStrip, lookOf } from './findStrip.ts';
import { type FlatQuad, flatQuads } from './flatQuads.ts';
import type { FoundStrip } from './foundStrip.ts';
import type { Marks, Point } from './marks.ts';
import { type MarksNeed, needsOf } from './marksNeeds.ts';
import { clockwise, containsPoint, scaleQuad, sharedArea, signedArea } from './quadGeometry.ts';
import type { Taps } from './taps.ts';
import { type ToneField, toneField } from './toneField.ts';

export type FindOutcome =
  | {
      readonly kind: 'found';
      readonly marks: Marks;
      /** 0..1. */
      readonly confidence: number;
      readonly notes: readonly string[];
    }
  | {
      readonly kind: 'uncertain';
      readonly marks: Marks;
      /** 0..1. */
      readonly confidence: number;
      /** What is in doubt, each a phrase. */
      readonly why: readonly string[];
      /** What a person should settle, the most doubtful first. */
      readonly needs: readonly MarksNeed[];
      /** Where the photo shows another number of steps than described. */
      readonly otherCount: 'fewer' | 'more' | null;
    }
  | {
      readonly kind: 'not-found';
      readonly what: 'card' | 'strip';
      readonly message: string;
      readonly phrase: Phrase;
    };

/** Longer side of the small picture, px, as near as whole boxes of pixels come. */
const reducedSidePx = 600;

/**
 * Where do card and steps lie in this photo? Card and strip may lie anywhere and any way round, on any table, as
 * long as the whole of both is in the photo; steps run side by side along one cloth, or as scraps in rows.
 *
 * @param photo upright photo.
 * @param strip what the card is and how many steps there are; the order of lightness tells the direction.
 * @param taps points that a person touched on card and strip; nothing elsewhere is taken for them.
 * @returns marks in pixels of the upright photo, card patches by name and steps in rising exposure, with a confidence;
 *   'uncertain' where a person should look first, 'not-found' where there is nothing to show.
 */
export function findMarks(photo: Photo, strip: Strip, taps: Taps = {}): FindOutcome {
  const longerPx = Math.max(photo.widthPx, photo.heightPx);
  const boxPx = Math.max(1, Math.round(longerPx / reducedSidePx));
  // Of large boxes every other row tells enough.
  const small = reduceLinear(photo, Math.ceil(longerPx / boxPx), boxPx >= 4 ? 2 : 1);
  const field = toneField(small, photo.profile.toXyz65.slice(3, 6));
  const found = findInField(field, strip, tapsIn(taps, small.scale));
  if (!found.card) {
    return {
      kind: 'not-found',
      what: 'card',
      message: `No card like the one described was found${taps.card ? ' where you tapped' : ''}. Take the photo with the whole card in it, or mark its patches by hand.`,
      phrase: phrase('card-unseen', { where: taps.card ? 'tap' : 'photo' }),
    };
  }
  if (!found.strip) {
    return {
      kind: 'not-found',
      what: 'strip',
      message: `No strip of ${strip.steps.length} steps was found${taps.strip ? ' where you tapped' : ''}. Take the photo with the whole strip in it, or mark the steps by hand.`,
      phrase: phrase('strip-unseen', { steps: strip.steps.length, where: taps.strip ? 'tap' : 'photo' }),
    };
  }
  const doubts = [
    ...eased(cardDoubts(found.card), taps.card),
    ...eased(stripDoubts(found.strip), taps.strip),
  ];
  const confidence = confidenceOf(doubts);
  const marks: Marks = {
    card: found.card.patches.map(({ name, quad }) => ({
      name,
      quad: clockwise(scaleQuad(quad, small.scale)),
      origin: 'free-form',
      confidence,
    })),
    steps: found.strip.steps.map((quad, k) => ({
      seconds: strip.steps[k].seconds,
      quad: clockwise(scaleQuad(quad, small.scale)),
      origin: 'free-form',
      confidence,
    })),
  };
  const phrases = doubts.filter((doubt) => doubt.weight > 0.1).map((doubt) => doubt.phrase);
  return confidence >= sureFrom
    ? { kind: 'found', marks, confidence, notes: phrases }
    : {
        kind: 'uncertain',
        marks,
        confidence,
        why: phrases,
        needs: needsOf(doubts),
        otherCount: otherCountOf(doubts),
      };
}

/** A person who tapped on it has said where it lies, not how many steps there are or which way they run. */
function eased(doubts: readonly Doubt[], tap: Point | undefined): readonly Doubt[] {
  if (!tap) return doubts;
  return doubts.map((doubt) =>
    doubt.part === 'count' || doubt.part === 'direction' ? doubt : { ...doubt, weight: doubt.weight / 2 },
  );
}

function tapsIn({ card, strip }: Taps, scale: number): Taps {
  return {
    ...(card && { card: [card[0] / scale, card[1] / scale] }),
    ...(strip && { strip: [strip[0] / scale, strip[1] / scale] }),
  };
}

/** The same on the small photo, in its pixels, with the evidence. */
export function findInField(
  field: ToneField,
  strip: Strip,
  taps: Taps = {},
): { readonly card: FoundCard | undefined; readonly strip: FoundStrip | undefined } {
  const quads = flatQuads(field);
  const known = { seconds: strip.steps.map((step) => step.seconds) };
  const grey = { redGreen: 0, blueGreen: 0 };
  if (strip.card.patches.length > 1) {
    const card = findCard(field, quads, strip.card, taps.card);
    const free = card ? quads.filter((q) => !onCard(q, card)) : quads;
    const prior = { ...known, neutral: card?.neutral ?? grey, ...(card && { card: card.outline }) };
    return { card, strip: findStrip(field, free, prior, taps.strip) };
  }
  const cloth = findStrip(field, quads, { ...known, neutral: grey }, taps.strip);
  const steps = cloth?.steps ?? [];
  const free = quads.filter((q) => !steps.some((step) => sharedArea(q.quad, step) > 0.2 * smaller(q, step)));
  return {
    card: findSinglePatch(free, strip.card, cloth ? lookOf(field, cloth) : undefined, taps.card),
    strip: cloth,
  };
}

function onCard(quad: FlatQuad, card: FoundCard): boolean {
  return (
    containsPoint(card.outline, quad.centre) ||
    card.patches.some((p) => sharedArea(quad.quad, p.quad) > 0.3 * smaller(quad, p.quad))
  );
}

function smaller(quad: FlatQuad, other: FlatQuad['quad']): number {
  return Math.min(quad.areaPx, Math.abs(signedArea(other)));
}
