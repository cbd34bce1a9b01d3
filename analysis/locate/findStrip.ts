import { confidenceOf, stripDoubts, sureFrom } from './confidence.ts';
import type { FlatQuad } from './flatQuads.ts';
import type { FoundStrip } from './foundStrip.ts';
import { unitSquareTo } from './homography.ts';
import type { Point, Quad } from './marks.ts';
import { convexHull } from './quadFit.ts';
import { containsPoint, quadCentre, sharedArea, signedArea } from './quadGeometry.ts';
import { sampleTone } from './sampleTone.ts';
import { fitScraps } from './scraps.ts';
import type { StripLook } from './singlePatch.ts';
import { stripFrames } from './stripFrames.ts';
import { fitSteps, isPlain, meritOf, promiseOf, type StripFit, type StripPrior } from './stripSteps.ts';
import type { ToneField } from './toneField.ts';

const framesRead = 30;
const framesCut = 4;
/** A band that is set off from its flanks over less than this share of its length is no strip. */
const leastBounded = 0.35;
/** Scraps have no ends to be mistaken, nats. */
const noEnds = 20;
/** Scraps of which so many are seen, and as regular as this, need no second opinion. */
const leastSeen = 0.8;
const mostIrregular = 1.1;
const fewestPlain = 6;
/** Worse than this is no row of scraps. */
const mostScrapMisfit = 4;

/** Where do the steps lie? Undefined where nothing looks like that many steps of one dye. */
export function findStrip(
  field: ToneField,
  quads: readonly FlatQuad[],
  strip: StripPrior,
  tap?: Point,
): FoundStrip | undefined {
  const scraps = findScraps(field, quads, strip, tap);
  if (scraps && isPlainly(scraps)) return scraps;
  const whole = findWholeStrip(field, quads, strip, tap);
  if (!scraps || !whole) return scraps ?? whole;
  // Scraps in a row, and the table between them, can pass for the steps of one cloth; hardly the other way round.
  const same = samePlace(scraps, whole);
  const [apart, joined] = [confidenceOf(stripDoubts(scraps)), confidenceOf(stripDoubts(whole))];
  if (same) return 4 * apart > joined ? scraps : whole;
  return apart > joined
    ? { ...scraps, rival: joined / apart }
    : { ...whole, rival: Math.max(whole.rival, apart / joined) };
}

/** A sure lattice of scraps, nearly all of them seen: nothing else in the photo need be looked at. A pattern may have a few. */
function isPlainly(scraps: FoundStrip): boolean {
  return (
    scraps.steps.length >= fewestPlain &&
    scraps.seenShare >= leastSeen &&
    scraps.leftOver === 0 &&
    scraps.irregularity < mostIrregular &&
    confidenceOf(stripDoubts(scraps)) >= sureFrom
  );
}

/** True without a tap, and where it lies on the steps or just beside them, on the cloth's margin. */
function touches(steps: readonly Quad[], tap: Point | undefined): boolean {
  return !tap || containsPoint(hullOf(steps.map((quad) => grown(quad, 1.6))), tap);
}

function hullOf(quads: readonly Quad[]): Point[] {
  return convexHull(quads.flatMap((quad) => [...quad]));
}

/** The quad made larger about its centre. */
function grown(quad: Quad, factor: number): Quad {
  const [cx, cy] = quadCentre(quad);
  return quad.map(([x, y]) => [cx + factor * (x - cx), cy + factor * (y - cy)]) as unknown as Quad;
}

/** True where most of the scraps lie on the steps of the whole strip, or most of its steps among the scraps. */
function samePlace(scraps: Pick<FoundStrip, 'steps'>, whole: Pick<FoundStrip, 'steps'>): boolean {
  const on = scraps.steps.filter((scrap) => {
    const shared = whole.steps.reduce((sum, step) => sum + sharedArea(scrap, step), 0);
    return shared > 0.5 * Math.abs(signedArea(scrap));
  });
  const hull = hullOf(scraps.steps);
  const among = whole.steps.filter((step) => containsPoint(hull, quadCentre(step)));
  return on.length > 0.6 * scraps.steps.length || among.length > 0.6 * whole.steps.length;
}

function findScraps(
  field: ToneField,
  quads: readonly FlatQuad[],
  strip: StripPrior,
  tap: Point | undefined,
): FoundStrip | undefined {
  const best = fitScraps(field, quads, strip.seconds.length, strip.neutral).find(({ steps }) =>
    touches(steps, tap),
  );
  if (!best || best.misfit > mostScrapMisfit) return undefined;
  return {
    steps: best.steps,
    pieces: 'scraps',
    directionOdds: best.directionGap,
    placeOdds: noEnds,
    seenShare: best.seen / strip.seconds.length,
    bounded: 1,
    toneRange: best.toneRange,
    irregularity: best.misfit - 1.5 * best.leftOver,
    countOdds: [noEnds, noEnds],
    openStart: false,
    unclaimed: 0,
    rival: 0,
    leftOver: best.leftOver + (strip.card ? best.beside(strip.card) : 0),
  };
}

function findWholeStrip(
  field: ToneField,
  quads: readonly FlatQuad[],
  strip: StripPrior,
  tap: Point | undefined,
): FoundStrip | undefined {
  const frames = stripFrames(field, quads)
    .filter(({ quad }) => !tap || containsPoint(grown(quad, 4), tap))
    .slice(0, framesRead)
    .map((frame) => ({ frame, promise: promiseOf(field, frame) }))
    .sort((a, b) => b.promise - a.promise)
    .slice(0, framesCut);
  const bands: { readonly fit: StripFit; readonly merit: number }[] = [];
  for (const { frame } of frames) {
    // The same strip seen through fewer of its areas needs no second look.
    const seen = bands.some(
      ({ fit }) =>
        isPlain(fit, strip.seconds.length) && containsPoint(hullOf(fit.steps), quadCentre(frame.quad)),
    );
    const fit = seen ? undefined : fitSteps(field, frame, strip);
    if (fit && fit.bounded >= leastBounded && touches(fit.steps, tap))
      bands.push({ fit, merit: meritOf(fit) });
  }
  bands.sort((a, b) => b.merit - a.merit);
  // Looking at other numbers of steps is slow: only for what could still be the best.
  const likely = bands
    .filter(({ merit }, i) => i < 2 && merit > 0.5 * bands[0].merit)
    .map(({ fit, merit }) => {
      const elsewhere = bands.find((band) => !samePlace(band.fit, fit));
      const found = wholeStrip(fit, strip.seconds.length, (elsewhere?.merit ?? 0) / merit);
      return { found, worth: merit * (0.2 + confidenceOf(stripDoubts(found))) };
    });
  return likely.sort((a, b) => b.worth - a.worth)[0]?.found;
}

function wholeStrip(fit: StripFit, count: number, rival: number): FoundStrip {
  return {
    steps: fit.steps,
    pieces: 'one',
    directionOdds: fit.directionOdds,
    placeOdds: fit.placeOdds,
    seenShare: count > 1 ? fit.visibleBorders / (count - 1) : 1,
    bounded: fit.bounded,
    toneRange: fit.toneRange,
    irregularity: fit.widthSpread,
    countOdds: fit.countOdds(),
    openStart: fit.openStart,
    unclaimed: fit.unclaimed,
    rival,
    leftOver: 0,
  };
}

/** What the strip tells about the photo's lightness: its lightest step and how large a step is. */
export function lookOf(field: ToneField, strip: FoundStrip): StripLook | undefined {
  const square = unitSquareTo(strip.steps[0]);
  const tone = square ? sampleTone(field, square, 0.2, 0.8, 0.2, 0.8) : undefined;
  return tone ? { lightest: tone.light, stepAreaPx: Math.abs(signedArea(strip.steps[0])) } : undefined;
}
