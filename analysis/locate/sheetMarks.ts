import type { Strip } from '../level/card.ts';
import type { Photo } from '../photo/photo.ts';
import { phrase } from '../phrases.ts';
import { type Area, BARE_AREAS, FIELD } from '../sheet/layout.ts';
import { confidenceOf, type Doubt, otherCountOf, sureFrom } from './confidence.ts';
import type { FindOutcome } from './findMarks.ts';
import { type Homography, project } from './homography.ts';
import type { Marks, Quad } from './marks.ts';
import { needsOf } from './marksNeeds.ts';
import { clockwise } from './quadGeometry.ts';
import { cardOn } from './sheetCard.ts';
import { readCode } from './sheetCode.ts';
import { inPhoto, viewOf } from './sheetField.ts';
import { againstPaper, paperLook } from './sheetPaper.ts';
import { piecesOn, strangeness } from './sheetPieces.ts';
import { sheetOn } from './sheetPlace.ts';
import { orderScraps, scrapsAmong } from './sheetScraps.ts';
import { cutCloth, type SheetSteps } from './sheetSteps.ts';
import { type ToneAxes, withSteepness } from './toneField.ts';

export interface SheetOutcome {
  readonly found: FindOutcome;
  /** Id of the plan whose code stands on the sheet; null where it can't be read or has none. */
  readonly planId: string | null;
}

/** Everything between the written lines below and the upper edge of the places, the frames' lines included. */
const CLOTH_VIEW: Area = { x: 18, y: 62.8, width: 220, height: 85.4 };
/** A larger card may stick out over the upper edge. */
const CARD_VIEW: Area = { x: 18, y: -9, width: 220, height: 69 };
const CLOTH_PX_PER_MM = 2;
const CARD_PX_PER_MM = 2;
const PAPER_PX_PER_MM = 0.5;
/** Smaller things on the paper are no cloth, mm². */
const LEAST_CLOTH = 70;

/**
 * Where do card and steps lie on a measuring sheet? From its corner markers to millimetres, three of four being
 * enough; the card by its patches and the cloth by its edges, each in its place.
 *
 * @param photo upright photo.
 * @param strip what the card is and how many steps there are; the order of lightness tells the direction.
 * @returns marks in pixels of the upright photo with the bare paper as surround; null where the photo shows no sheet.
 */
export const findOnSheet = async (photo: Photo, strip: Strip): Promise<SheetOutcome | null> => {
  const placed = await sheetOn(photo);
  if (!placed) return null;
  const { vision, sheet } = placed;
  const { toPhoto } = sheet;
  const planId = readCode(vision, photo, toPhoto);
  const answer = (found: FindOutcome): SheetOutcome => ({ found, planId });
  const notFound = (what: 'card' | 'strip', message: string) =>
    answer({
      kind: 'not-found',
      what,
      message,
      phrase:
        what === 'card'
          ? phrase('card-unseen', { where: 'sheet' })
          : phrase('strip-unseen', { steps: strip.steps.length, where: 'sheet' }),
    });

  const luminance = photo.profile.toXyz65.slice(3, 6);
  const whole = viewOf(photo, toPhoto, { x: 0, y: 0, ...FIELD }, PAPER_PX_PER_MM);
  const paper = paperLook(whole, luminance);
  const cardView = viewOf(photo, toPhoto, CARD_VIEW, CARD_PX_PER_MM);
  const card =
    paper && cardOn(withSteepness(againstPaper(cardView, luminance, paper)), strip.card, CARD_PX_PER_MM);
  if (!card)
    return notFound(
      'card',
      'The measuring sheet was found, but no card like the one described lies in its upper frame. Lay the card there and take the photo again, or mark its patches by hand.',
    );
  const clothView = viewOf(photo, toPhoto, CLOTH_VIEW, CLOTH_PX_PER_MM);
  const cloth = clothOn(againstPaper(clothView, luminance, paper), strip.steps);
  if (!cloth)
    return notFound(
      'strip',
      `The measuring sheet was found, but no strip of ${strip.steps.length} steps lies in its lower frame. Lay the cloth there with white paper showing all round and take the photo again, or mark the steps by hand.`,
    );
  const doubts = [...card.doubts, ...cloth.doubts];
  const confidence = confidenceOf(doubts);
  const provenance = { origin: 'sheet' as const, confidence };
  const marks: Marks = {
    card: card.patches.map(({ name, quad }) => ({
      name,
      quad: clockwise(inPhoto(cardView, toPhoto, quad)),
      ...provenance,
    })),
    steps: cloth.steps.map((quad, k) => ({
      seconds: strip.steps[k].seconds,
      quad: clockwise(inPhoto(clothView, toPhoto, quad)),
      ...provenance,
    })),
    surround: whiteOf(toPhoto),
  };
  const phrases = doubts.filter(({ weight }) => weight > 0.1).map(({ phrase }: Doubt) => phrase);
  return answer(
    confidence >= sureFrom
      ? { kind: 'found', marks, confidence, notes: phrases }
      : {
          kind: 'uncertain',
          marks,
          confidence,
          why: phrases,
          otherCount: otherCountOf(doubts),
          needs: needsOf(doubts),
        },
  );
};

/** One cloth, or a scrap for each step. */
const clothOn = (field: ToneAxes, { length: count, 0: first }: Strip['steps']): SheetSteps | null => {
  const far = strangeness(field);
  const leastPx = LEAST_CLOTH * CLOTH_PX_PER_MM ** 2;
  const pieces = piecesOn(field, far, leastPx);
  const scraps = scrapsAmong(field, far, leastPx, count, pieces);
  if (scraps) return orderScraps(field, far, scraps, 0);
  const [largest] = pieces;
  return largest?.quad ? cutCloth(field, largest.quad, count, first.seconds === 0) : null;
};

/** Bare paper of the sheet in the photo: what the light of the table may be told by. */
const whiteOf = (toPhoto: Homography): Quad[] =>
  BARE_AREAS.map(({ x, y, width, height }) => [
    project(toPhoto, x, y),
    project(toPhoto, x + width, y),
    project(toPhoto, x + width, y + height),
    project(toPhoto, x, y + height),
  ]);
